import type { Settings } from '../platform/settings.ts';
import { Choice, Tick } from '../ui/controls.tsx';
import { Dialog } from '../ui/dialog.tsx';

const always = [
  ['Ctrl+Z', 'Undo the last decision'],
  ['Ctrl+Shift+Z', 'Do it again'],
  ['Ctrl+V', 'Open what is on the clipboard'],
  ['Ctrl+M', 'In the side by side view: let Tab leave the text'],
  ['Arrows, Enter', 'In the patch bay: move about; pick a cord up and put it down'],
  ['Esc', 'Close what lies on top; give a cord back'],
] as const;

const single = [
  ['1 to 6', 'Go to that sheet'],
  ['/', 'Search on this sheet'],
  ['?', 'These keys'],
] as const;

export function KeysDialog({
  settings,
  onSettings,
  onClose,
}: {
  settings: Settings;
  onSettings: (next: Partial<Settings>) => void;
  onClose: () => void;
}) {
  return (
    <Dialog
      title="Keys and settings"
      onClose={onClose}
      footer={
        <button type="button" className="btn next" onClick={onClose}>
          Close
        </button>
      }
    >
      <table className="list">
        <tbody>
          {[...always, ...(settings.singleKeys ? single : [])].map(([key, does]) => (
            <tr key={key}>
              <th scope="row" className="nowrap">
                <span className="key">{key}</span>
              </th>
              <td>{does}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="told">
        <Tick
          state={settings.singleKeys ? 'on' : 'off'}
          label="Single keys do something"
          onChange={(singleKeys) => onSettings({ singleKeys })}
        />
        <span aria-hidden="true">Single keys do something. Switch this off if you speak to your computer.</span>
      </div>
      <div className="row">
        <span>Colours</span>
        <Choice
          label="Colours"
          options={[
            ['system', 'As the system'],
            ['light', 'Day'],
            ['dark', 'Night'],
          ]}
          chosen={settings.theme}
          onChoose={(theme) => onSettings({ theme })}
        />
      </div>
      <p className="dim">These two settings are kept in this browser. Nothing of any file is.</p>
    </Dialog>
  );
}

import { useEffect, useState } from 'react';
import { Button, ComboBox, Input, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import { Mark } from '../../ui/marks.tsx';
import { nameTrouble, type PortRow, suggestions } from './cords.ts';

/** The new name of one port: typed or chosen. It is decided when the field is left, on Enter, or by a choice. */
export function PortField({
  row,
  rows,
  onDecide,
}: {
  row: PortRow;
  rows: readonly PortRow[];
  onDecide: (to: string) => void;
}) {
  const [text, setText] = useState(row.to);
  useEffect(() => setText(row.to), [row.to]);
  const draft = text.trim();
  const clash = rows.find((other) => other.name !== row.name && other.to === draft);
  const problem = nameTrouble(draft) ?? (clash ? `${clash.name} goes there too.` : null);
  const decide = (to: string) => {
    const name = to.trim() || row.name;
    if (nameTrouble(name)) return;
    setText(name);
    if (name !== row.to) onDecide(name);
  };
  const items = suggestions(rows, row.name).map((id) => ({ id }));
  return (
    <ComboBox
      className={`port-field ${row.to === row.name ? '' : 'mine'} ${problem ? 'bad' : ''}`}
      aria-label={`New port for ${row.name}`}
      allowsCustomValue
      menuTrigger="manual"
      inputValue={text}
      onInputChange={setText}
      defaultItems={items}
      isInvalid={problem !== null}
      onSelectionChange={(key) => key !== null && decide(String(key))}
      onBlur={() => decide(text)}
      onKeyDown={(event) => {
        if (event.key === 'Enter') decide(text);
      }}
    >
      <div className="field-row">
        <Input className="field" spellCheck="false" autoComplete="off" />
        <Button className="field-open" aria-label={`Names for ${row.name}`}>
          <Mark name="down" />
        </Button>
      </div>
      {problem && (
        <span className="field-problem wrong" role="status">
          <Mark name={clash && !nameTrouble(draft) ? 'stop' : 'break'} /> {problem}
        </span>
      )}
      <Popover className="field-list">
        <ListBox items={items}>
          {({ id }) => (
            <ListBoxItem id={id} textValue={id} className="field-option">
              <span className="mono">{id}</span>
              <span className="dim">{remark(id, row, rows)}</span>
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}

function remark(name: string, row: PortRow, rows: readonly PortRow[]): string {
  if (name === row.name) return 'as on the old box';
  const holder = rows.find((other) => other.to === name);
  if (holder) return holder.name === name ? 'in use' : `${holder.name} goes there`;
  return rows.some((other) => other.name === name) ? 'free, its cord moved' : 'next in the row';
}

import { useEffect, useState } from 'react';
import { Button, ComboBox, Input, ListBox, ListBoxItem, Popover } from 'react-aria-components';
import { Mark } from '../../ui/marks.tsx';

/** A port by its name, typed or chosen. It is decided when the field is left, on Enter, or by a choice. */
export function NameField({
  label,
  listLabel,
  value,
  mine,
  items,
  troubleOf,
  onType,
  onDecide,
}: {
  label: string;
  listLabel: string;
  value: string;
  /** Whether what stands there was decided. */
  mine: boolean;
  items: readonly { readonly id: string; readonly remark: string }[];
  /** What is wrong with a text: `stop` is in the way, `warn` is only told. */
  troubleOf: (draft: string) => { readonly weight: 'stop' | 'break'; readonly words: string } | null;
  /** Given each text on the way, without blanks around it, where that matters before it is decided. */
  onType?: (draft: string) => void;
  /** Given the text without blanks around it; empty where the field was emptied. */
  onDecide: (name: string) => void;
}) {
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  const problem = troubleOf(text.trim());
  const decide = (typed: string) => {
    const name = typed.trim();
    if (troubleOf(name)?.weight === 'break') return;
    setText(name || value);
    if (name !== value) onDecide(name);
  };
  return (
    <ComboBox
      className={`port-field ${mine ? 'mine' : ''} ${problem ? 'bad' : ''}`}
      aria-label={label}
      allowsCustomValue
      menuTrigger="manual"
      inputValue={text}
      onInputChange={(draft) => {
        setText(draft);
        onType?.(draft.trim());
      }}
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
        <Button className="field-open" aria-label={listLabel}>
          <Mark name="down" />
        </Button>
      </div>
      {problem && (
        <span className="field-problem wrong" role="status">
          <Mark name={problem.weight} /> {problem.words}
        </span>
      )}
      <Popover className="field-list">
        <ListBox items={items} className="field-items">
          {({ id, remark }) => (
            <ListBoxItem id={id} textValue={id} className="field-option">
              <span className="mono">{id}</span>
              <span className="dim">{remark}</span>
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}

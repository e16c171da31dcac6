import { nameTrouble, type PortRow, suggestions } from './cords.ts';
import { NameField } from './name-field.tsx';
import { socketRemark } from './places.ts';
import type { Socket } from './sockets.ts';

/** The new name of one port. */
export function PortField({
  row,
  rows,
  sockets,
  onDecide,
}: {
  row: PortRow;
  rows: readonly PortRow[];
  /** Those of the new box; null where it is not described. */
  sockets: readonly Socket[] | null;
  onDecide: (to: string) => void;
}) {
  const known = new Map(sockets?.map((socket) => [socket.name, socket]));
  const names = sockets?.filter(({ port }) => port !== null).map(({ name }) => name) ?? null;
  return (
    <NameField
      label={`New port for ${row.name}`}
      listLabel={`Names for ${row.name}`}
      value={row.to}
      mine={row.to !== row.name}
      items={suggestions(rows, row.name, names).map((id) => ({ id, remark: remark(id, row, rows, known.get(id)) }))}
      troubleOf={(draft) => {
        const words = nameTrouble(draft);
        if (words) return { weight: 'break', words };
        const clash = rows.find((other) => other.name !== row.name && other.to === draft);
        return clash ? { weight: 'stop', words: `${clash.name} goes there too.` } : null;
      }}
      onDecide={(name) => onDecide(name || row.name)}
    />
  );
}

function remark(name: string, row: PortRow, rows: readonly PortRow[], socket: Socket | undefined): string {
  if (socket?.port) return socketRemark(socket);
  if (name === row.name) return 'as on the old box';
  const holder = rows.find((other) => other.to === name);
  if (holder) return holder.name === name ? 'in use' : `${holder.name} goes there`;
  return rows.some((other) => other.name === name) ? 'free, its cord moved' : 'next in the row';
}

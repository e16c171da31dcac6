/** The last row of a long table, which has a mark for its first column: asks for more rows. */
export function MoreRow({ span, label, onMore }: { span: number; label: string; onMore: () => void }) {
  return (
    <tr>
      <td className="m" />
      <td colSpan={span}>
        <button type="button" className="link" onClick={onMore}>
          {label}
        </button>
      </td>
    </tr>
  );
}

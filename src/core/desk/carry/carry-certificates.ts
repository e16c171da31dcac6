import type { CertificateRow, RecordMark } from '../../views.ts';
import type { CarryView } from './carry-view.ts';

/** The records that hold certificates, each once, in the order of the file: what people move from one box to another. */
export function certificateList(view: CarryView): CertificateRow[] {
  const { certificates } = view.reading;
  const keyOf = ({ path, name }: RecordMark) => view.row(path)?.key || name;
  const rows = new Map<string, CertificateRow>();
  for (const [at, { site, keyAt, issuerAt }] of certificates.entries()) {
    const record = view.mark(site.node);
    const issuer = issuerAt === at ? undefined : certificates[issuerAt];
    const authority = issuer ? view.mark(issuer.site.node) : null;
    const known = rows.get(record.path);
    rows.set(record.path, {
      record,
      name: keyOf(record),
      hasKey: keyAt !== null || known?.hasKey === true,
      authority: authority && authority.path !== record.path ? keyOf(authority) : (known?.authority ?? null),
      goes: !view.gone(site.node),
    });
  }
  return [...rows.values()];
}

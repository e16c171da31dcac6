/** A name for the result that is never that of the input: `gw.xml` becomes `gw.carried.xml`, then `gw.carried-2.xml`. */
export function resultName(input: string): string {
  const [, stem, number, ending] = /^(.*?)(?:\.carried(?:-(\d+))?)?(\.[A-Za-z0-9]{1,8})?$/.exec(input) ?? [];
  const base = stem || 'backup';
  if (!/\.carried(-\d+)?(\.[A-Za-z0-9]{1,8})?$/.test(input)) return `${base}.carried${ending ?? '.xml'}`;
  return `${base}.carried-${Number(number ?? 1) + 1}${ending ?? '.xml'}`;
}

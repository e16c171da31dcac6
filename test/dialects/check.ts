import { SaxesParser } from 'saxes';
import type { Truth } from './xml.ts';

/** Every element and attribute of a file by its path, read by a parser that shares no code with the generator. */
export function readPaths(xml: string): Map<string, string> {
  const out = new Map<string, string>();
  const stack: { path: string; seen: Map<string, number>; text: string }[] = [{ path: '', seen: new Map(), text: '' }];
  const parser = new SaxesParser({ xmlns: false });
  parser.on('error', (e) => {
    throw e;
  });
  parser.on('opentag', (tag) => {
    const parent = stack.at(-1) as (typeof stack)[0];
    const n = (parent.seen.get(tag.name) ?? 0) + 1;
    parent.seen.set(tag.name, n);
    const path = `${parent.path}/${tag.name}[${n}]`;
    out.set(`${path}/name()`, tag.name);
    for (const [name, value] of Object.entries(tag.attributes)) out.set(`${path}/@${name}`, value as string);
    stack.push({ path, seen: new Map(), text: '' });
  });
  const addText = (text: string): void => {
    (stack.at(-1) as (typeof stack)[0]).text += text;
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('closetag', () => {
    const top = stack.pop() as (typeof stack)[0];
    out.set(top.path, top.text);
  });
  parser.write(xml).close();
  return out;
}

/** What is wrong with a truth, in words; empty when nothing is. */
export function faults(xml: string, truth: Truth): string[] {
  const at = readPaths(xml);
  const out: string[] = [];
  const exists = (path: string, what: string): void => {
    if (!at.has(path)) out.push(`${what}: no ${path}`);
  };
  const holds = (path: string, value: string, what: string): void => {
    exists(path, what);
    if (value === '' || value !== value.trim()) out.push(`${what}: value "${value}" at ${path}`);
    if (at.has(path) && !(at.get(path) as string).includes(value))
      out.push(`${what}: ${path} holds "${at.get(path)}", not "${value}"`);
  };
  for (const r of truth.refs) {
    holds(r.at, r.value, 'reference');
    for (const to of [r.to, ...(r.to_any ?? [])]) exists(to, 'target');
  }
  for (const d of truth.dangling) holds(d.at, d.value, 'dangling');
  for (const p of truth.ports) holds(p.at, p.value, 'port');
  const all = [...at.values()].join('\n');
  for (const b of truth.bindings) {
    exists(b.at, 'binding');
    if (!all.includes(b.role)) out.push(`binding: role "${b.role}" stands nowhere`);
    // A VLAN without a name has that of its port, a dot and its number, which stand apart.
    if (!all.includes(b.port) && !all.includes(b.port.replace(/\.\d+$/, '')))
      out.push(`binding: port "${b.port}" stands nowhere`);
  }
  if (new Set(truth.bindings.map(({ role, port }) => `${role} ${port}`)).size < truth.bindings.length)
    out.push('binding: told twice');
  for (const [what, list] of [
    ['secret', truth.secrets],
    ['certificate', truth.certificates],
    ['hardware', truth.hardware],
  ] as const)
    for (const p of list) exists(p, what);
  const refs = new Set(truth.refs.map((r) => `${r.at} ${r.value}`));
  for (const d of truth.dangling)
    if (refs.has(`${d.at} ${d.value}`)) out.push(`both dangling and resolved: ${d.at} ${d.value}`);
  for (const o of truth.optional) if (o.startsWith('/')) exists(o, 'optional');
  return out;
}

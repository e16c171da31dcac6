import type { PortSet } from '../ports.ts';
import { randomPorts } from '../ports.ts';
import type { Rng } from '../rng.ts';
import { allRecords, type Field, fieldOf, type Item, type Model, type Rec, textOf } from './model.ts';
import { syllables } from './words.ts';

/** What is drawn anew apart from words and layout: names, counts, keys, ports, operators. The model is changed in place. */
export interface Changed {
  readonly ports: PortSet;
  /** What stands between a port and a VLAN number. */
  readonly vlanSeparator: string;
  /** Items are written with a blank inside; a list then needs another separator. */
  readonly blanks: boolean;
}

export function change(model: Model, rng: Rng, speaks: boolean): Changed {
  recount(model, rng.fork('counts'));
  groupSets(model, rng.fork('groups'));
  const blanks = rename(model, rng.fork('names'));
  rekey(model, rng.fork('keys'), speaks);
  const drawn = reports(model, rng.fork('ports'));
  operate(model, rng.fork('operators'));
  settle(model);
  return { ...drawn, blanks };
}

/** Every item of the model, with where it stands. */
function* items(model: Model): Generator<{ rec: Rec; field: Field; item: Item }> {
  for (const rec of allRecords(model))
    for (const field of rec.fields) for (const item of field.items) yield { rec, field, item };
}

const list = (model: Model, kind: string): Rec[] => model.records.get(kind) ?? [];

/** Takes a record out, with every record that needs it. */
function drop(model: Model, id: string): void {
  const needs: string[] = [];
  for (const rec of allRecords(model)) {
    rec.inner = rec.inner.filter((one) => one.id !== id);
    for (const field of rec.fields) {
      const left = field.items.filter((item) => item.ref !== id);
      if (left.length === field.items.length) continue;
      if (left.length === 0) needs.push(rec.id);
      else field.items = left;
    }
  }
  for (const [kind, recs] of model.records)
    model.records.set(
      kind,
      recs.filter((one) => one.id !== id),
    );
  for (const one of needs) drop(model, one);
}

function copyOf(rec: Rec, mark: string): Rec {
  return {
    ...rec,
    id: `${rec.id}+${mark}`,
    truth: [...rec.truth],
    fields: rec.fields.map((f) => ({ ...f, truth: [...f.truth], items: f.items.map((item) => ({ ...item })) })),
    inner: rec.inner.map((one) => copyOf(one, mark)),
  };
}

const set = (rec: Rec, concept: string, text: string): void => {
  const field = fieldOf(rec, concept);
  if (field?.items[0]) field.items[0].text = text;
};

function recount(model: Model, rng: Rng): void {
  const named = new Set([...items(model)].map(({ item }) => item.ref));
  // Roles on a VLAN that only rules and pools name.
  const vlanRoles = list(model, 'role').filter((rec) => fieldOf(rec, 'port')?.items[0]?.ref !== undefined);
  for (const role of rng.sample(vlanRoles, rng.pick([0, 0, 1, 3, 5]))) {
    const vlan = fieldOf(role, 'port')?.items[0]?.ref as string;
    drop(model, role.id);
    drop(model, vlan);
  }
  const grown = rng.pick([0, 0, 0, 2, 5, 30]);
  for (let i = 0; i < grown; i++) {
    const role = list(model, 'role').find((rec) => fieldOf(rec, 'port')?.items[0]?.ref !== undefined);
    const vlan = role && list(model, 'vlan').find((rec) => rec.id === fieldOf(role, 'port')?.items[0]?.ref);
    if (!role || !vlan) break;
    const mark = `r${i}`;
    const [newRole, newVlan] = [copyOf(role, mark), copyOf(vlan, mark)];
    const tag = String(300 + i);
    set(newRole, 'name', `berth${300 + i}`);
    set(newRole, 'label', `Berth ${300 + i}`);
    set(newRole, 'address', `10.22.${i}.1`);
    set(newVlan, 'tag', tag);
    const device = fieldOf(newRole, 'port')?.items[0] as Item;
    device.ref = newVlan.id;
    for (const item of [device, fieldOf(newVlan, 'device')?.items[0] as Item]) {
      item.port = { base: item.port?.base as string, suffix: `.${tag}` };
    }
    list(model, 'role').push(newRole);
    list(model, 'vlan').push(newVlan);
    if (i % 2 === 0) {
      const rule = list(model, 'rule').find((rec) => fieldOf(rec, 'role')?.items[0]?.ref === role.id);
      if (rule) {
        const more = copyOf(rule, mark);
        for (const field of more.fields)
          for (const item of field.items) if (item.ref === role.id) item.ref = newRole.id;
        list(model, 'rule').push(more);
      }
    }
  }
  // Kinds of which some go.
  for (const kind of ['rule', 'pool', 'nat', 'route', 'ap', 'user', 'set', 'svc', 'lease']) {
    if (!rng.chance(0.3)) continue;
    const now = list(model, kind).filter(
      (rec) => !named.has(rec.id) && !rec.fields.some((f) => f.items.some((i) => i.gone)),
    );
    for (const rec of rng.sample(now, rng.int(0, Math.max(0, now.length - 1)))) drop(model, rec.id);
  }
  // Kinds of which more come; each new one has a name of its own, and a third of them is named by something.
  for (const kind of ['set', 'svc', 'sched', 'user', 'gw', 'ap', 'route', 'rule', 'lease']) {
    if (!rng.chance(0.3)) continue;
    const now = list(model, kind);
    const made = rng.pick([1, 3, 8, 20]);
    for (let i = 0; i < made && now.length > 0; i++) {
      const more = copyOf(rng.pick(now), `${kind}${i}`);
      if (more.fields.some((field) => field.items.some((item) => item.gone))) continue;
      set(more, 'name', `${textOf(more, 'name')}_${rng.int(2, 9)}${i}`);
      set(more, 'ip', `10.20.${rng.int(60, 90)}.${rng.int(2, 250)}`);
      set(more, 'network', `10.${rng.int(30, 90)}.${rng.int(0, 250)}.0/24`);
      set(more, 'id', `new-${rng.hex(12)}`);
      now.push(more);
      if (rng.chance(0.33)) {
        const users = [...items(model)].filter(({ item }) => now.some((rec) => rec.id === item.ref) && !item.port);
        if (users.length > 3) rng.pick(users).item.ref = more.id;
      }
    }
  }
  if (rng.chance(0.15)) for (const rec of [...list(model, 'nat')]) drop(model, rec.id);
  if (rng.chance(0.15)) for (const rec of [...list(model, 'agg')]) drop(model, rec.id);
}

/** Sets that hold sets, and rules that name more than one. */
function groupSets(model: Model, rng: Rng): void {
  const sets = list(model, 'set');
  if (sets.length > 2 && rng.chance(0.35)) {
    const count = rng.int(2, 4);
    for (let i = 0; i < count; i++) {
      const [outer, inner] = rng.sample(sets, 2) as [Rec, Rec];
      fieldOf(outer, 'entries')?.items.push({ text: '', ref: inner.id });
    }
  }
  if (!rng.chance(0.35)) return;
  for (const rule of list(model, 'rule')) {
    for (const concept of ['source', 'dest']) {
      const field = fieldOf(rule, concept);
      if (!field) continue;
      field.list = true;
      const first = field.items[0] as Item;
      if (first.text === 'any' && !first.ref) continue;
      if (sets.length > 0 && rng.chance(0.25)) {
        const other = rng.pick(sets).id;
        if (first.ref !== other) field.items.push({ text: '', ref: other });
      } else if (!first.ref && rng.chance(0.2))
        field.items.push({ text: `10.20.${rng.int(1, 200)}.${rng.int(2, 250)}` });
    }
  }
}

/** New names for all records; free text that says an old name says the new one. Returns whether names have blanks. */
function rename(model: Model, rng: Rng): boolean {
  const style = rng.pick(['keep', 'syllables', 'upper', 'title', 'numbers', 'blanks', 'dots', 'kebab']);
  const map = new Map<string, string>();
  const taken = new Set<string>();
  const next = (old: string): string => {
    const parts = old.split(/[_ -]/);
    for (;;) {
      const word = () => syllables(rng, 1, 3);
      const made = {
        keep: old,
        syllables: word() + word(),
        upper: parts.map(word).join('_').toUpperCase(),
        title: parts
          .map(word)
          .join(' ')
          .replace(/(^| )./g, (c) => c.trim().toUpperCase()),
        numbers: `${word()}${rng.int(1, 99)}`,
        blanks: `${word()} ${word()}`,
        dots: `${word()}.${word()}`,
        kebab: `${word()}-${word()}`,
      }[style] as string;
      if (!taken.has(made)) return made;
      if (style === 'keep') return old;
    }
  };
  for (const rec of allRecords(model)) {
    const name = textOf(rec, 'name');
    if (name === null || rec.concept === 'tunable') continue;
    if (!map.has(name)) {
      const made = rec.concept === 'agg' ? rng.pick(['lagg1', 'bond0', 'agg3', 'team0']) : next(name);
      taken.add(made);
      map.set(name, made);
    }
    set(rec, 'name', map.get(name) as string);
  }
  model.optionalValues = model.optionalValues.map((value) => map.get(value) ?? value);
  for (const { field, item } of items(model)) {
    if (item.gone === 'role' || item.gone === 'set' || item.gone === 'gw') item.text = next(item.text);
    if (field.concept !== 'label') continue;
    for (const [old, made] of map) if (old.length > 3) item.text = item.text.replace(old, made);
  }
  const by = list(model, 'saved')[0];
  if (by) set(by, 'by', map.get(textOf(by, 'by') as string) ?? 'mara');
  return style === 'blanks';
}

const NAMED = ['role', 'set', 'svc', 'sched', 'rule', 'gw', 'ca', 'cert', 'user', 'group'] as const;

/** How each kind is named by others: by its name or label, or by an identifier of one of several forms. */
function rekey(model: Model, rng: Rng, speaks: boolean): void {
  const form = rng.pick(
    ['uuid', 'hex', 'int', 'counter', 'code', 'long'].filter((one) => speaks || !/int|counter/.test(one)),
  );
  const share = rng.pick([0, 0, 0.3, 1]);
  let counter = rng.int(10, 900);
  const make = (kind: string, i: number): string => {
    if (form === 'int') return String(i + 1);
    counter += rng.int(1, 3);
    if (form === 'counter') return String(counter);
    if (form === 'hex') return rng.hex(13);
    if (form === 'long') return rng.text(10, 'ABCDEFGHJKMNPQRSTVWXYZ0123456789');
    if (form === 'code') return `${kind.slice(0, 2)}${String(i + 1).padStart(4, '0')}`;
    return `${rng.hex(8)}-${rng.hex(4)}-4${rng.hex(3)}-a${rng.hex(3)}-${rng.hex(12)}`;
  };
  const spare = (kind: string, count: number): string => make(kind, count + rng.int(3, 30));
  for (const kind of NAMED) {
    const recs = list(model, kind);
    const first = recs[0];
    if (first === undefined) continue;
    const own = fieldOf(first, 'name') ? 'name' : 'label';
    const labelled = kind !== 'rule' && new Set(recs.map((rec) => textOf(rec, own))).size === recs.length;
    const byId = kind === 'rule' || !labelled || rng.chance(kind === 'ca' || kind === 'cert' ? 0.5 : share);
    recs.forEach((rec, i) => {
      rec.keyField = byId ? 'id' : own;
      rec.fields = rec.fields.filter((field) => field.concept !== 'id');
      if (byId) {
        rec.fields.unshift({ concept: 'id', items: [{ text: make(kind, i) }], list: false, truth: [] });
      }
    });
    // What is gone was called as the others are.
    for (const { item } of items(model)) {
      if (item.gone !== kind) continue;
      if (byId) item.text = spare(kind, recs.length);
      else if (own === 'label') item.text = 'Telephones 2019';
    }
  }
  // VLANs are named by their device, by no field of their own (the device is port and number), or by an identifier.
  const way = rng.pick(['device', 'device', 'device', 'joined', 'id']);
  list(model, 'vlan').forEach((rec, i) => {
    if (way === 'joined') {
      rec.fields = rec.fields.filter((field) => field.concept !== 'device');
      rec.keyField = null;
    }
    if (way !== 'id') return;
    rec.keyField = 'id';
    rec.fields.unshift({ concept: 'id', items: [{ text: make('vlan', i) }], list: false, truth: [] });
  });
  if (way !== 'id') return;
  for (const role of list(model, 'role')) {
    const port = fieldOf(role, 'port') as Field;
    const item = port.items[0] as Item;
    if (item.ref === undefined) continue;
    port.concept = 'vlan';
    delete item.port;
  }
}

function reports(model: Model, rng: Rng): { ports: PortSet; vlanSeparator: string } {
  let ports = randomPorts(rng, model.ports.length);
  while (ports.family === 'spaced') ports = randomPorts(rng, model.ports.length);
  const slots = ports.names.some((name) => /[/-]/.test(name));
  const vlanSeparator = rng.pick(
    ['.', '.', ':', '-', '_', '/', '.vlan', 'v', '@'].filter((s) => !slots || !/[-/]/.test(s)),
  );
  const map = Object.fromEntries(model.ports.map((base, i) => [base, ports.names[i] as string]));
  for (const { field, item } of items(model)) {
    if (item.port) {
      item.text = `${map[item.port.base]}${item.port.suffix.replace(/^\D+/, vlanSeparator)}`;
    } else if (field.concept === 'label') {
      item.text = item.text.replace(/\b[a-z]+\d+(s0)?\b/, (word) => map[word] ?? word);
    }
  }
  return { ports, vlanSeparator };
}

/** Marks around a reference: its network or address, and "not". */
function operate(model: Model, rng: Rng): void {
  const around = rng.pick<[string, string]>([
    ['', ''],
    ['', ':net'],
    ['net(', ')'],
    ['', '_network'],
    ['', '/lan'],
    ['@', ''],
    ['zone:', ''],
    ['', ' net'],
  ]);
  const not = rng.pick(['', '', '!', 'not ', '-', '~', '! ', '^']);
  const mixed = rng.chance(0.3);
  for (const { rec, field, item } of items(model)) {
    if (rec.concept !== 'rule' || (field.concept !== 'source' && field.concept !== 'dest')) continue;
    const role = list(model, 'role').some((one) => one.id === item.ref);
    const many = field.list && /[ ()]/.test(around.join(''));
    if (role && !many && (!mixed || rng.chance(0.5))) item.around = around;
    if (item.text !== 'any' && rng.chance(0.12) && !(field.list && not.includes(' '))) {
      item.around = [not + (item.around?.[0] ?? ''), item.around?.[1] ?? ''];
    }
  }
}

/** A name that is gone can only be known where its field names other records; and every key gets its final text. */
function settle(model: Model): void {
  const byId = new Map(allRecords(model).map((rec) => [rec.id, rec]));
  const resolves = new Set(
    [...items(model)].filter(({ item }) => item.ref).map(({ rec, field }) => `${rec.concept} ${field.concept}`),
  );
  for (const { rec, field, item } of items(model)) {
    if (item.gone !== undefined && !resolves.has(`${rec.concept} ${field.concept}`)) {
      delete item.gone;
      field.truth.push('optional');
    }
    if (item.ref === undefined || item.port) continue;
    const target = byId.get(item.ref) as Rec;
    if (target === undefined) throw new Error(`${rec.id}: nothing is ${item.ref}`);
    const text = target.keyField === null ? null : textOf(target, target.keyField);
    if (text === null) throw new Error(`${target.id} has no key`);
    item.text = text;
  }
}

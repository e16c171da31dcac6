import { SaxesParser } from 'saxes';
import type { DialectTruth } from '../generate.ts';
import type { Item, Model, Rec, Truth } from './model.ts';

interface Node {
  readonly tag: string;
  readonly path: string;
  readonly attributes: Record<string, string>;
  readonly kids: Node[];
  text: string;
}

/** The words of the corpus by what they mean; a record has children, a field has none. */
const RECORDS = concepts(`
role: segment attachment; vlan: taggedlink vlan; agg: bundle aggregate; set: hostgroup addressset; svc: portgroup service
sched: timewindow calendar; rule: rule policyrow; nat: translation forward; pool: leasepool addresspool; gw: nexthop gateway
route: staticroute route; ca: caentry authority; cert: certificate certentry; user: operator account; group: group team
vpn: server tunnel; ap: accesspoint client; tunable: variable setting; lease: reservation fixedlease
general: general base; console: serialconsole console; admin: management adminpage; radius: radius authserver
sensor: trafficsensor intrusionsensor; saved: saved lastchange`);
const FIELDS = concepts(`
name: ident name; id: id handle; label: label title note; port: port nic hardwareport; on: enabled active
address: address ipv4address; prefix: prefix prefixlength; mtu: mtu; mac: hardwareaddress mac; parent: carrier baseport parent
tag: vlanid tag; device: portname linkname; ports: memberports members; entries: content entries; hours: hours span
action: action verdict; proto: proto protocol; source: source from; dest: to destination; dport: destport service
when: timewindow onlyduring; role: segment via arriveson; outside: outsideport publicport; inside: insidehost target
rule: filterid linkedrule; first: rangestart first; last: rangeend last; ip: ip fixedip; host: hostname
network: destprefix network; gw: nexthop usegateway; pem: publicpart chain; key: privatepart privatekey
issuer: issuedby authorityid; hash: secrethash passwordhash; anchor: trustanchor peerauthority; cert: identity servercertificate
inner: tunnelnetwork clientrange; group: allowedgroup usergroup; roles: segments listenon monitoredsegments watch
quiet: silenced suppressedids; families: rulefamilies categories; shared: sharedsecret passphrase; value: value setto
at: at time; by: by author; resolver: resolver nameserver; page: tlscertificate pageidentity; listen: listenport
life: keylifetime passwordminlength; domain: domain; zone: timezone; speed: speed baud; member: member account
graph: grapharchive historydata`);
/** Kinds of which a file has one, without a key. */
export const SINGLES: ReadonlySet<string> = new Set([
  'general',
  'console',
  'admin',
  'radius',
  'sensor',
  'saved',
  'graph',
]);

const TAG_KEYED: ReadonlySet<string> = new Set([
  'networkroles',
  'attachments',
  'segments',
  'addresspools',
  'leasepools',
]);

function concepts(table: string): Map<string, string> {
  const out = new Map<string, string>();
  for (const entry of table.split(/[;\n]/).filter((one) => one.trim() !== '')) {
    const [concept, words] = entry.split(':') as [string, string];
    for (const word of words.trim().split(' ')) out.set(word, concept.trim());
  }
  return out;
}

const bare = (name: string) => name.replace(/[-_]/g, '').toLowerCase();

function parse(xml: string): Node {
  const top: Node = { tag: '', path: '', attributes: {}, kids: [], text: '' };
  const stack = [top];
  const parser = new SaxesParser({ xmlns: false });
  parser.on('error', (e) => {
    throw e;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const parent = stack.at(-1) as Node;
    const n = parent.kids.filter((kid) => kid.tag === name).length + 1;
    const attrs = attributes as Record<string, string>;
    const node: Node = { tag: name, path: `${parent.path}/${name}[${n}]`, attributes: attrs, kids: [], text: '' };
    parent.kids.push(node);
    stack.push(node);
  });
  const add = (text: string): void => {
    (stack.at(-1) as Node).text += text;
  };
  parser.on('text', add);
  parser.on('cdata', add);
  parser.on('closetag', () => {
    stack.pop();
  });
  parser.write(xml).close();
  return top.kids[0] as Node;
}

/** What a corpus file says, by its truth. Words are only used to tell kinds apart; what refers is said by the truth. */
export function readModel(bytes: Uint8Array, truth: DialectTruth): Model {
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 100));
  const encoding = /encoding="([^"]+)"/.exec(head)?.[1] ?? 'utf-8';
  const root = parse(new TextDecoder(encoding).decode(bytes));
  const by = <T extends { at: string }>(list: readonly T[]) => {
    const map = new Map<string, T[]>();
    for (const one of list) map.set(one.at, [...(map.get(one.at) ?? []), one]);
    return map;
  };
  const refs = by(truth.refs);
  const gone = by(truth.dangling);
  const ports = by(truth.ports);
  const bases = Object.keys(truth.moved);
  const marks = new Map<string, Truth[]>();
  const optional = truth.optional.filter((one) => one.startsWith('/'));
  for (const [mark, list] of [
    ['secret', truth.secrets],
    ['certificate', truth.certificates],
    ['hardware', truth.hardware],
    ['optional', optional],
  ] as const)
    for (const path of list) marks.set(path, [...(marks.get(path) ?? []), mark]);

  const item = (at: string, text: string): Item => {
    const ref = refs.get(at)?.find((one) => text.includes(one.value));
    // What an operator adds, as in `uplink:net`, is drawn anew.
    const out: Item = { text: ref?.value ?? text };
    if (ref) out.ref = ref.to;
    const missing = gone.get(at)?.find((one) => one.value === text);
    if (missing) out.gone = missing.kind;
    if (ports.get(at)?.some((one) => one.value === text)) {
      const base = bases.find((one) => text === one || (text.startsWith(one) && !/^\d/.test(text.slice(one.length))));
      if (base === undefined) throw new Error(`${at}: no port in ${text}`);
      out.port = { base, suffix: text.slice(base.length) };
    }
    return out;
  };
  const LISTS = new Set(['ports', 'entries', 'roles', 'quiet', 'families', 'member', 'resolver']);
  const put = (rec: Rec, at: string, name: string, text: string): void => {
    const concept = FIELDS.get(bare(name));
    if (concept === undefined) throw new Error(`${at}: what is ${name}?`);
    const list = LISTS.has(concept);
    const parts = list ? text.split(',') : [text];
    const items = parts.map((part) => item(at, part));
    const known = rec.fields.find((one) => one.concept === concept);
    if (known) known.items.push(...items);
    else if (concept === 'on') rec.fields.push({ concept, items, list, flag: true, truth: [] });
    else rec.fields.push({ concept, items, list, truth: marks.get(at) ?? [] });
  };

  const records = new Map<string, Rec[]>();
  const add = (rec: Rec): void => {
    records.set(rec.concept, [...(records.get(rec.concept) ?? []), rec]);
  };
  const make = (node: Node, concept: string): Rec => {
    const rec: Rec = {
      id: node.path,
      concept,
      fields: [],
      inner: [],
      truth: marks.get(node.path) ?? [],
      keyField: null,
    };
    for (const [name, value] of Object.entries(node.attributes)) put(rec, `${node.path}/@${name}`, name, value);
    for (const kid of node.kids) {
      const inner = kid.kids.length > 0 ? RECORDS.get(bare(kid.tag)) : undefined;
      if (inner === undefined) put(rec, kid.path, kid.tag, kid.text);
      else if (SINGLES.has(concept)) add(make(kid, inner));
      else rec.inner.push(make(kid, inner));
    }
    return rec;
  };
  const sort = (node: Node): void => {
    const word = bare(node.tag);
    if (word === 'grapharchive' || word === 'historydata') {
      const rec: Rec = { id: node.path, concept: 'graph', fields: [], inner: [], truth: [], keyField: null };
      put(rec, node.path, node.tag, node.text);
      add(rec);
      return;
    }
    // `services` holds port groups or, in a grouped file, other sections; `group` and `team` only hold fields.
    const concept = RECORDS.get(word);
    if (concept !== undefined && (node.kids.some((kid) => kid.kids.length === 0) || SINGLES.has(concept))) {
      add(make(node, concept));
      return;
    }
    for (const kid of node.kids) {
      // Where the tag is the key: roles, and pools that are called by their role.
      if (TAG_KEYED.has(word) && !RECORDS.has(bare(kid.tag))) {
        const pool = kid.kids.some((one) => one.kids.length > 0);
        const rec = make(kid, pool ? 'pool' : 'role');
        rec.fields.unshift({
          concept: pool ? 'role' : 'name',
          items: [item(`${kid.path}/name()`, kid.tag)],
          list: false,
          truth: [],
        });
        add(rec);
      } else sort(kid);
    }
  };
  sort(root);

  const model: Model = { records, ports: bases, optionalValues: truth.optional.filter((one) => !one.startsWith('/')) };
  nameKeys(model, truth);
  return model;
}

/** For each kind that others name: the field whose values they write. */
function nameKeys(model: Model, truth: DialectTruth): void {
  const value = new Map(truth.refs.map((one) => [one.to, one.value]));
  for (const [concept, list] of model.records) {
    const named = list.find((rec) => value.has(rec.id));
    if (named === undefined) continue;
    const key = named.fields.find((one) => one.items[0]?.text === value.get(named.id));
    if (key === undefined) throw new Error(`${named.id}: what is its key?`);
    for (const rec of list) rec.keyField = key.concept;
    if (concept === 'pool') throw new Error('nobody names a pool');
  }
}

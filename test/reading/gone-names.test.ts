import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

const times = (count: number, inside: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => inside(at)).join('');
const id = (kind: number, no: number) => `${kind}d5e0f2a-00b${no}-4c6b-9a10-5f0e2b7c00b${no}`;

// Common practice, no source: what few records name, one of which is gone.
test('a name beside the only one that is there, where all else in the field are names', () => {
  const { names, gone } = linksOf(
    `<q>${times(2, (at) => `<g v="10.20.${at}.254" k="${['mast', 'pier'][at]}"/>`)}
    ${times(4, (at) => `<r do="pass" from="10.20.${at}.9" by="${['mast', 'pier'][at % 2]}"/>`)}
    <f to="192.0.2.0/25" l="mast"/><f to="192.0.2.128/25" l="mast"/><f to="198.51.100.0/24" l="dish"/></q>`,
  );
  expect(names.filter((name) => name.startsWith('f/'))).toEqual(['f/l mast -> g', 'f/l mast -> g']);
  expect(gone).toEqual(['dish']);
});

test('a name in a field that tells its own records apart, where another field of its name names the same', () => {
  const { gone } = linksOf(
    `<q>${times(4, (at) => `<proof><title>proof${at + 1}</title><made>2026-0${at + 1}-04</made></proof>`)}
    <page><shows>proof1</shows><port>8443</port></page>
    ${times(3, (at) => `<tunnel shows="${['proof2', 'proof3', 'proof9'][at]}" title="way ${at}" port="${1194 + at}"/>`)}</q>`,
  );
  expect(gone).toEqual(['proof9']);
});

test('names of two records, one of which another field has beside one that is gone: what several kinds go by is no reference', () => {
  const kinds = ['plan', 'host', 'net', 'exit'].map((kind) =>
    times(3, (at) => `<${kind} on="yes"><nick>${kind}-${'abc'[at]}</nick><made>2026-0${at + 1}-04</made></${kind}>`),
  );
  const proofs = times(
    2,
    (at) => `<proof by="ca1" on="yes"><nick>proof${at + 1}</nick><about>Page ${at}</about></proof>`,
  );
  const ways = times(
    2,
    (at) =>
      `<way shows="${['proof2', 'proof7'][at]}" net="10.99.${at}.0/24"><nick>${['staff', 'winter'][at]}</nick><from>ca1</from></way>`,
  );
  const { names, gone } = linksOf(
    `<q>${kinds.join('')}<proofs>${proofs}</proofs><page shows="proof1" port="443"><on>yes</on></page><ways>${ways}</ways></q>`,
  );
  expect(names).toEqual(['page/shows proof1 -> proof', 'way/shows proof2 -> proof']);
  expect(gone).toEqual(['proof7']);
});

test('an identifier that a settings page names, and others of which one is gone: they name the records, not these them', () => {
  const proofs = times(
    4,
    (at) => `<proof key="${id(7, at)}"><nick>proof${at + 1}</nick><made>2026-0${at + 1}-04</made></proof>`,
  );
  const tunnels = times(
    4,
    (at) => `<tunnel nick="way${at}"><port>${1194 + at}</port><with>${id(7, at + 1)}</with></tunnel>`,
  );
  const { names, gone } = linksOf(
    `<q><page by="${id(7, 0)}"><port>8443</port></page><ways>${tunnels}</ways><proofs>${proofs}</proofs></q>`,
  );
  expect(names).toEqual([0, 1, 2, 3].map((at) => `${at === 0 ? 'page/by' : 'tunnel/with'} ${id(7, at)} -> proof`));
  expect(gone).toEqual([id(7, 4)]);
});

test('an identifier in the only list, with blanks between', () => {
  const { names, gone } = linksOf(
    `<q>${times(4, (at) => `<person no="${id(4, at)}"><nick>${['mara', 'ines', 'pavel', 'rolf'][at]}</nick></person>`)}
    <team no="${id(5, 1)}"><people>${[id(4, 1), id(4, 3), id(4, 7)].join(' ')}</people></team></q>`,
  );
  expect(names).toEqual([`team/people ${id(4, 1)} -> person`, `team/people ${id(4, 3)} -> person`]);
  expect(gone).toEqual([id(4, 7)]);
});

test('labels of records that are called by a word and their number', () => {
  const { gone } = linksOf(
    `<q><proofs>${times(3, (at) => `<item${at + 1}><title>${['Admin page', 'Remote access', 'Access points'][at]}</title><made>2026-0${at + 1}-04</made></item${at + 1}>`)}</proofs>
    <page><shows>Admin page</shows><port>8443</port></page>
    ${times(2, (at) => `<tunnel nick="${['north', 'south'][at]}"><with>${['Remote access', 'Old telephones'][at]}</with></tunnel>`)}</q>`,
  );
  expect(gone).toEqual(['Old telephones']);
});

test('of two labels that which far more fields have is what the records are called', () => {
  const [called, remarks] = [
    ['North quay', 'South quay', 'Old yard', 'Fuel dock'],
    ['Card tills', 'Cameras', 'Lamps', 'Pumps'],
  ].map((list) => list.map((name) => `${name} 1`));
  const nets = called!.map(
    (name, at) => `<net on="igb${at}" text="${remarks![at]}" ip="10.20.${at}.1" title="${name}"/>`,
  );
  const pools = called!.slice(1).map((name, at) => `<pool at="${name}" low="10.20.${at + 1}.100"/>`);
  const rules = [...called!, ...called!, 'Gone quay 1'].map((name) => `<rule at="${name}" do="pass" to="any"/>`);
  const { names, gone } = linksOf(
    `<q>${nets.join('')}${pools.join('')}<watch over="${called![2]}"/>${rules.join('')}${remarks!
      .slice(2)
      .map((text, at) => `<tag id="${at + 30}" text="${text}"/>`)
      .join('')}</q>`,
  );
  expect(names.filter((name) => /^(rule|pool|watch)/.test(name))).toEqual([
    ...called!.slice(1).map((name) => `pool/at ${name} -> net`),
    `watch/over ${called![2]} -> net`,
    ...[...called!, ...called!].map((name) => `rule/at ${name} -> net`),
  ]);
  expect(gone).toEqual(['Gone quay 1']);
});

test('a service and its port beside names in a list by blanks, one of which is gone', () => {
  const { names, gone } = linksOf(
    `<q>${times(4, (at) => `<svc id="${['web', 'shell', 'stream', 'clock'][at]}" port="${80 + at}" keep="no"/>`)}
    ${['web udp/4500 udp/500', 'shell clock', 'stream tcp/9001 tcp/9002', 'shell vnc', 'web', 'clock'].map((list) => `<rule act="pass" svc="${list}"/>`).join('')}</q>`,
  );
  expect(names).toHaveLength(7);
  expect(gone).toEqual(['vnc']);
});

test('the box is not named by an account that is called as it is', () => {
  const { names } = linksOf(
    `<q><general><host>lockgate</host><domain>marina.example</domain></general>
    ${times(4, (at) => `<net name="n${at}" ip="10.20.${at}.1/24"/><rule in="n${at}" do="pass"/>`)}
    <mail><relay>192.0.2.25</relay><user>lockgate</user><password>mud-and-mussels</password></mail></q>`,
  );
  expect(names.filter((name) => name.includes('lockgate'))).toEqual([]);
});

test('a name that only the record around it has as its own', () => {
  const rules = ['pier-web', 'sauna', 'mast-web', 'yard-mail', 'pier-mail'].map(
    (name, at) =>
      `<rule name="${name}"><from>${['pier', 'sauna', 'mast', 'yard', 'pier'][at]}</from><port>${80 + at}</port></rule>`,
  );
  const { gone } = linksOf(
    `<q>${times(4, (at) => `<net name="${['pier', 'mast', 'yard', 'dish'][at]}"><ip>10.20.${at}.254</ip><mtu>150${at}</mtu></net>`)}${rules.join('')}</q>`,
  );
  expect(gone).toEqual(['sauna']);
});

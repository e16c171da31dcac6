import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

// Made up for the test: every kind of record is one letter, and so is every field, handed out anew in each kind.
test('where names are letters that mean something else in every kind, one called as another kind is names none of it', () => {
  const nets = ['uplink', 'lights', 'staff', 'cctv', 'dredge', 'phones'];
  const record = (tag: string, letters: string, ...values: readonly string[]) =>
    `<${tag} ${values.map((value, at) => `${letters[at]}="${value}"`).join(' ')}/>`;
  const tags = [100, 110].map((tag) => record('j', 'pcs', '1/0/3', `${tag}`, `1/0/3v${tag}`));
  const ports = ['1/0/1', '1/0/2', '1/0/3v100', '1/0/3v110', '1/0/5', '1/0/6'];
  const all = [
    ...tags,
    ...nets.map((net, at) =>
      record('n', 'phm', net, `${1 + at} berths`, ports[at]!).replace('/>', ` i="10.20.${at * 8}.1"/>`),
    ),
    ...['barge', 'tender', 'buoy'].map((far, at) => record('P', 'jmz', far, `10.98.0.${at + 2}/32`, `far ${at}`)),
    ...['sea', 'mast'].map((way, at) => record('g', 'mtp', way, nets[at * 4]!, `203.0.113.${9 + at}`)),
    ...['dawn', 'dusk'].map((hour, at) => record('h', 'pzm', hour, `0${at}:00-1${at}:00`, 'mon-fri')),
    ...['tide', 'lens'].map((set, at) => record('r', 'hip', set, `10.20.40.${at + 5}`, `Hosts of ${set}`)),
    ...nets.slice(1, 3).map((net, at) => record('s', 'zpg', net, `10.20.${8 + at * 8}.100`, `10.20.${8 + at * 8}.120`)),
    ...[0, 1, 0, 0, 0, 1, 0].map((net, at) =>
      record('a', 'fsmo', nets[net]!, ['tcp', 'udp'][at % 2]!, `${[53, 22, 123, 993][at % 4]}`, `10.20.8.${at}`),
    ),
    ...[0, 1, 2, 3, 0, 3, 1, 3].map((net, at) =>
      record('o', 'xqkz', 'permit', nets[net]!, ['tcp', 'udp'][at % 2]!, at > 4 ? 'dusk' : 'dawn'),
    ),
  ];
  const { names } = linksOf(`<f>${all.join('')}</f>`);
  expect(names.filter((name) => name.endsWith('-> n'))).toHaveLength(2 + 2 + 7 + 8);
});

import type {
  AsWritten,
  CarryFilter,
  CarryLink,
  CarryTreeRow,
  FitReason,
  NeedView,
  ResultKind,
  Standing,
  ValueHint,
} from '../core/index.ts';
import { count, number, verb } from './numbers.ts';

export const filterNames: Record<CarryFilter, string> = {
  all: 'All',
  attention: 'Needs a look',
  changed: 'Changed',
  'left-out': 'Left out',
  secret: 'Secret',
  'box-bound': 'Box-bound',
};

export const resultNames: Record<ResultKind, readonly [short: string, long: string]> = {
  whole: ['Whole file', 'The whole file, without what you leave out'],
  ticked: ['Only ticked', 'Only what you tick, in a file of its own'],
  graft: ['Graft', 'What you tick, in the new box’s own backup'],
};

/** Where something that is put in stands, and why: `behind web, as on the old box`. */
export function standingWords({ reason, beside }: Standing): string {
  switch (reason) {
    case 'told':
      return beside ? `behind ${beside}, as you say` : 'at the start, as you say';
    case 'behind-neighbour':
      return `behind ${beside}, as on the old box`;
    case 'before-neighbour':
      return `before ${beside}, as on the old box`;
    case 'before-closing':
      return `before ${beside}, which fits all that is left`;
    case 'last':
      return beside ? `last, behind ${beside}` : 'last';
    default:
      return reason satisfies never;
  }
}

/** Why one record needs another: `names it as source`. */
export function needWords({ kind, field }: Pick<NeedView, 'kind' | 'field'>): string {
  switch (kind) {
    case 'names':
      return field ? `by ${field}` : 'by name';
    case 'device':
      return 'sits on the device it makes';
    case 'private-key':
      return 'its private key';
    case 'authority':
      return 'the authority that signed it';
    case 'inside':
      return 'lies in it';
    default:
      return kind satisfies never;
  }
}

/** The way from one record to another: `dock-office needs gw1 (by own-side), which needs gw1-tls (its private key)`. */
export const wayWords = ({ why }: CarryLink): string =>
  why
    .map((step, at) => `${at === 0 ? `${step.from} needs` : 'which needs'} ${step.to} (${needWords(step)})`)
    .join(', ');

export type Tone = 'mine' | 'wrong' | 'dim';

/** What becomes of a row, in a few words. */
export function fateWords(row: CarryTreeRow, result: ResultKind): readonly [string, Tone] {
  const one = row.entries <= 1;
  if (row.fate === 'left-out') {
    if (row.along > 0)
      return [
        row.along === row.entries ? 'comes along' : `${number(row.along)} ${verb(row.along, 'comes', 'come')} along`,
        'mine',
      ];
    return [result === 'whole' ? 'left out' : 'not taken', result === 'whole' ? 'mine' : 'dim'];
  }
  if (row.wanting > 0) return [wantWords(row.wanting, one, result), 'wrong'];
  if (row.dangling > 0)
    return [`${count(row.dangling, 'name')} ${verb(row.dangling, 'leads', 'lead')} nowhere`, 'wrong'];
  if (result === 'graft' && one && row.leftOut > 0) return ['the new box’s own stays', 'dim'];
  const parts = [
    row.changed > 0 && (one ? 'changed' : `${number(row.changed)} changed`),
    row.leftOut > 0 &&
      (result === 'whole' ? `${number(row.leftOut)} left out` : `${number(row.entries - row.leftOut)} taken`),
  ].filter(Boolean);
  if (parts.length > 0) return [parts.join(', '), 'mine'];
  return result === 'whole' ? ['as it was', 'dim'] : ['taken', 'mine'];
}

function wantWords(wanting: number, one: boolean, result: ResultKind): string {
  if (result === 'graft')
    return one
      ? 'names what neither box has'
      : `${number(wanting)} ${verb(wanting, 'names', 'name')} what neither box has`;
  return one ? 'what it needs is out' : `${number(wanting)} ${verb(wanting, 'needs', 'need')} what is out`;
}

export const fitWords: Record<FitReason, string> = {
  'place-missing': 'Nothing stands at its place now',
  'record-gone': 'That record is not there now',
  'port-missing': 'This file does not name that port',
  'role-missing': 'That role is not there now',
  'value-other': 'Another value stands there now',
  'field-missing': 'No field is written so now',
  'collection-missing': 'Those records are not there now',
  'records-moved': 'Records came or went beside it, so its place may be another’s now',
};

const kinds: Partial<Record<ValueHint['kind'], string>> = {
  material: 'a certificate or key',
  'password-hash': 'a password hash',
  uuid: 'an identifier',
  mac: 'a hardware address',
  netmask: 'a netmask',
  ipv4: 'an IPv4 address',
  ipv6: 'an IPv6 address',
  prefix: 'a network with its prefix length',
  'address-range': 'a range of addresses',
  url: 'an address of a page',
  'mail-address': 'a mail address',
  date: 'a date',
  time: 'a time of day',
  'port-range': 'a range of ports',
  boolean: 'a yes or no',
  vlan: 'a VLAN ID, 1 to 4094',
  port: 'a port, 0 to 65535',
  epoch: 'a time in seconds',
  integer: 'a whole number',
  device: 'the name of a device',
  'domain-name': 'a domain name',
  hex: 'hexadecimal digits',
  base64: 'base64',
  'host-name': 'a plain name',
  enumeration: 'one of a few words',
  text: 'text',
};

const forms: Record<AsWritten['form'], string> = {
  pem: 'PEM in lines',
  'pem-escaped': 'PEM in one line, \\n for each line end',
  'pem-line': 'PEM in one line, a blank for each line end',
  'base64-pem': 'base64 of the whole PEM text',
  base64: 'base64 without the PEM marks',
  hex: 'hexadecimal digits',
};

export const formWords = (form: AsWritten['form']): string => forms[form];

export const kindWords = (kind: ValueHint['kind']): string => kinds[kind] ?? 'a value';

import type { Rng } from './rng.ts';
import { type Language, type LetterCase, Words } from './words.ts';

export type KeyMode = 'name' | 'code' | 'hex' | 'uuid' | 'int' | 'label';
export type Kind =
  | 'port'
  | 'role'
  | 'vlan'
  | 'agg'
  | 'set'
  | 'svc'
  | 'sched'
  | 'rule'
  | 'gw'
  | 'ca'
  | 'cert'
  | 'user'
  | 'group';
export type ListForm = 'comma' | 'comma-space' | 'blank' | 'newline' | 'semicolon' | 'bar' | 'repeat' | 'wrap';

export interface Operator {
  readonly pre: string;
  readonly post: string;
}

/** Every choice of one dialect that is about meaning; layout.ts of a school adds those about shape. */
export interface Dialect {
  readonly words: Words;
  readonly keys: Readonly<Record<Kind, KeyMode>>;
  readonly keyStart: number;
  readonly hexDigits: number;
  /** "the network of role x" and "the address of role x" where an end of a rule names them. */
  readonly netOf: Operator;
  readonly addressOf: Operator;
  readonly setMark: Operator;
  readonly negation: Operator | 'field';
  readonly any: string | null;
  readonly self: string;
  readonly yes: string;
  readonly no: string | null;
  readonly inverse: boolean;
  readonly permit: string;
  readonly deny: string;
  readonly list: ListForm;
  readonly addressForm: 'split' | 'cidr' | 'mask';
  /** Where a role's device is written: at the role, in a record that joins both, as parent and tag, by key. */
  readonly binding: 'role' | 'join' | 'inline' | 'link';
  readonly vlanDevice: boolean;
  readonly ends: 'one' | 'split' | 'nested';
  readonly pem: 'pem' | 'base64-pem' | 'der' | 'der-lines';
  readonly sharedRefWords: boolean;
  readonly labels: boolean;
  readonly portTable: boolean;
}

export interface Needs {
  /** Every record has a number (where words say nothing: a long identifier). */
  readonly ints?: boolean;
  readonly language?: Language;
  /** Values cannot hold records of their own. */
  readonly flat?: boolean;
  /** The identifiers of this dialect, whatever the words are. */
  readonly sameKeysAs?: Dialect;
}

export function randomDialect(root: Rng, needs: Needs = {}): Dialect {
  const r = root.fork('dialect');
  const language = needs.language ?? randomLanguage(r.fork('language'));
  // Records named in one language and their fields in another: a home-grown file often looks so.
  const second =
    language !== 'opaque' && language !== 'letters' && r.fork('second language').chance(0.15)
      ? r.fork('second').pick(['en', 'abbr', 'de'] as const)
      : language;
  const letterCase = r
    .fork('case')
    .pick<LetterCase>([
      'kebab',
      'snake',
      'camel',
      'pascal',
      'lower',
      'upper',
      'dotted',
      'upper-snake',
      'kebab',
      'snake',
      'camel',
    ]);
  const words = new Words(root.fork('words'), language, second, letterCase, '');
  const meaningless = language === 'opaque' || language === 'letters';
  const keys = needs.sameKeysAs?.keys ?? randomKeys(r.fork('keys'), meaningless, needs.ints === true);
  const ints = keys.role === 'int' || keys.set === 'int' || keys.svc === 'int';
  const bool = r.fork('bool').pick([
    ['true', 'false'],
    ['yes', 'no'],
    ['on', 'off'],
    ['1', '0'],
    ['Y', 'N'],
    ['enabled', 'disabled'],
    ['true', 'false'],
    ['1', null],
    ['T', 'F'],
    ['ja', 'nein'],
    ['si', 'no'],
  ] as const);
  const action = r.fork('action').pick([
    ['permit', 'deny'],
    ['allow', 'block'],
    ['accept', 'drop'],
    ['PASS', 'STOP'],
    ['+', '-'],
    ['let through', 'turn away'],
    ['erlaubt', 'verboten'],
    ['si', 'no'],
  ] as const);
  const net = r.fork('net').pick<Operator>([
    { pre: '', post: '' },
    { pre: '', post: '' },
    { pre: '', post: ':net' },
    { pre: 'net(', post: ')' },
    { pre: '', post: '/net' },
    { pre: 'net:', post: '' },
    { pre: '', post: ' network' },
    { pre: '@', post: '' },
    { pre: '[', post: ']' },
    { pre: '', post: '.subnet' },
  ]);
  const address = r.fork('address').pick<Operator>([
    { pre: '', post: ':address' },
    { pre: 'addr(', post: ')' },
    { pre: '', post: '/address' },
    { pre: '', post: '/self' },
    { pre: '', post: ' address' },
    { pre: '=', post: '' },
  ]);
  return {
    words,
    keys,
    keyStart: needs.sameKeysAs?.keyStart ?? r.fork('start').pick([1, 1, 1, 0, 10, 100]),
    hexDigits: needs.sameKeysAs?.hexDigits ?? r.fork('digits').pick([8, 12, 13, 16, 24]),
    netOf: net,
    addressOf: address,
    setMark: r.fork('set mark').chance(0.1)
      ? r.fork('set mark 2').pick([
          { pre: '$', post: '' },
          { pre: '%', post: '' },
          { pre: '<', post: '>' },
          { pre: 'list:', post: '' },
        ])
      : { pre: '', post: '' },
    negation: r
      .fork('not')
      .pick<Operator | 'field'>([
        'field',
        'field',
        { pre: '!', post: '' },
        { pre: '! ', post: '' },
        { pre: 'not ', post: '' },
        { pre: '^', post: '' },
        { pre: '-', post: '' },
        { pre: 'except(', post: ')' },
      ]),
    any: r.fork('any').pick(['any', 'any', 'all', '*', 'everywhere', 'ANY', null, '0.0.0.0/0', 'alle']),
    self: r.fork('self').pick(['self', 'this-box', 'me', 'local', 'ownaddress']),
    yes: bool[0],
    no: bool[1],
    inverse: r.fork('inverse').chance(0.25),
    permit: action[0],
    deny: action[1],
    list: r
      .fork('list')
      .pick<ListForm>([
        'comma',
        'comma-space',
        'blank',
        'newline',
        'semicolon',
        'bar',
        'repeat',
        'repeat',
        'repeat',
        'wrap',
        'wrap',
      ]),
    addressForm: r.fork('address form').pick(['split', 'cidr', 'mask', 'split']),
    binding: r
      .fork('binding')
      .pick([
        'role',
        'role',
        'role',
        'role',
        'role',
        'role',
        'role',
        'join',
        'join',
        'inline',
        ...(ints || keys.vlan !== 'name' ? (['link', 'link', 'link'] as const) : []),
      ]),
    vlanDevice: r.fork('vlan device').chance(0.8),
    ends: ints ? 'split' : r.fork('ends').pick(['one', 'one', 'one', 'one', 'split', needs.flat ? 'one' : 'nested']),
    pem: r.fork('pem').pick(['pem', 'base64-pem', 'der', 'der-lines']),
    sharedRefWords: r.fork('ref words').chance(0.6),
    labels: r.fork('labels').chance(0.85),
    portTable: r.fork('port table').chance(0.5),
  };
}

function randomLanguage(r: Rng): Language {
  const weighted: Language[] = [
    'en',
    'en',
    'en',
    'en',
    'abbr',
    'abbr',
    'de',
    'de',
    'es',
    'tr',
    'el',
    'ru',
    'cjk',
    'opaque',
    'opaque',
    'opaque',
  ];
  return r.pick(weighted);
}

function randomKeys(r: Rng, meaningless: boolean, ints: boolean): Record<Kind, KeyMode> {
  const kinds: Kind[] = [
    'port',
    'role',
    'vlan',
    'agg',
    'set',
    'svc',
    'sched',
    'rule',
    'gw',
    'ca',
    'cert',
    'user',
    'group',
  ];
  const style = ints
    ? meaningless
      ? 'opaque'
      : 'int'
    : r.pick(['name', 'name', 'name', 'name', 'mixed', 'mixed', 'opaque', meaningless ? 'opaque' : 'int']);
  const opaque = r.pick<KeyMode>(['hex', 'uuid']);
  const out = {} as Record<Kind, KeyMode>;
  for (const k of kinds) {
    const own = r.fork(k);
    if (style === 'int') out[k] = 'int';
    else if (style === 'opaque') out[k] = opaque;
    else if (style === 'mixed') out[k] = own.pick<KeyMode>(['name', 'name', 'code', opaque]);
    else
      out[k] =
        k === 'ca' || k === 'cert'
          ? own.pick<KeyMode>([opaque, opaque, 'label', 'name'])
          : k === 'rule'
            ? own.pick<KeyMode>([opaque, 'code'])
            : 'name';
    // A device's own name is its key unless every record has an identifier.
    if ((k === 'port' || k === 'vlan' || k === 'agg') && (out[k] === 'code' || style === 'mixed')) out[k] = 'name';
    if (k === 'rule' && out[k] === 'name') out[k] = 'code';
  }
  if (out.role === 'code') out.user = out.user === 'code' ? 'name' : out.user;
  return out;
}

import { importsOf, type Source, walk } from './source.ts';

/** A rule finds what is wrong in one file, in words; an empty list is a pass. */
export type Rule = (source: Source) => string[];

/** The rooms of src and those that each may use. `types`: only types, so that none of its code rides along. */
const rooms: Record<string, { uses: string[]; types?: string[] }> = {
  core: { uses: [] },
  worker: { uses: ['core'] },
  words: { uses: [], types: ['core'] },
  platform: { uses: ['core', 'worker'] },
  state: { uses: ['core', 'worker', 'platform', 'words'] },
  ui: { uses: ['words'], types: ['core'] },
  panes: { uses: ['ui', 'state', 'platform', 'words'], types: ['core', 'worker'] },
  app: { uses: ['core', 'worker', 'platform', 'state', 'ui', 'panes', 'words'] },
  cli: { uses: ['core', 'worker', 'words'] },
};

/** The floors of core, lowest first: a file imports from its own floor or a lower one. */
const floors = [
  'trouble.ts',
  'lists.ts',
  'text',
  'patch',
  'xml',
  'values',
  'reading',
  'receiver',
  'plan',
  'views',
  'views.ts',
  'compile',
  'carry',
  'checks',
  'repeat',
  'handover',
  'desk',
  'index.ts',
];

/** Libraries that are pure: they work on what they are given. */
const pureLibraries = ['saxes', 'fast-xml-parser', 'ipaddr.js', '@noble/curves', '@peculiar/x509', 'reflect-metadata'];

/** Names of the runtime that core may declare for itself: conversions that every runtime has. */
const pureGlobals = ['TextEncoder', 'TextDecoder'];

const roomOf = (path: string) => /^src\/([^/]+)\//.exec(`${path}/`)?.[1] ?? null;
const floorOf = (path: string) => /^src\/core\/([^/]+)/.exec(path)?.[1] ?? null;

export const roomsImportDownwards: Rule = (source) => {
  const room = roomOf(source.path)!;
  if (!rooms[room]) return [`${source.path}: the room ${room} has no place in the order`];
  return importsOf(source).flatMap(({ target, package: library, typeOnly }) => {
    const other = library ? null : roomOf(target);
    if (library || other === room) return [];
    if (other === null) return room === 'core' ? [`${source.path}: core imports ${target}, outside core`] : [];
    const { uses, types = [] } = rooms[room];
    if (uses.includes(other) || (typeOnly && types.includes(other))) return [];
    return [`${source.path}: ${room} imports ${types.includes(other) ? 'more than types from ' : ''}${target}`];
  });
};

export const coreHasOneDoor: Rule = (source) => {
  if (roomOf(source.path) === 'core') return [];
  return importsOf(source)
    .filter(({ target, package: library }) => !library && roomOf(target) === 'core')
    .filter(({ target }) => !/^src\/core(\/index(\.ts)?)?\/?$/.test(target))
    .map(({ target }) => `${source.path}: goes past src/core/index.ts to ${target}`);
};

export const coreFloorsImportDownwards: Rule = (source) => {
  if (roomOf(source.path) !== 'core') return [];
  const floor = floorOf(source.path)!;
  const level = floors.indexOf(floor);
  if (level < 0) return [`${source.path}: ${floor} has no place among the floors of core`];
  return importsOf(source)
    .filter(({ target, package: library }) => !library && roomOf(target) === 'core')
    .filter(({ target }) => {
      const other = floorOf(target);
      const below = floors.findIndex((name) => name === other || name === `${other}.ts`);
      return below < 0 || below > level;
    })
    .map(({ target }) => `${source.path}: ${floor} imports upwards, ${target}`);
};

export const coreUsesPureLibraries: Rule = (source) => {
  if (roomOf(source.path) !== 'core') return [];
  return importsOf(source)
    .filter(({ target, package: library }) => library && !pureLibraries.includes(target))
    .map(({ target }) => `${source.path}: core imports ${target}`);
};

/** The language itself has a clock and chance, which the types cannot keep out. */
export const coreHasNoClockOrChance: Rule = (source) => {
  if (roomOf(source.path) !== 'core') return [];
  const found: string[] = [];
  const report = (what: string) => found.push(`${source.path}: core uses ${what}`);
  const declared = (name: string | undefined, declare: boolean | undefined) => {
    if (declare && name && !pureGlobals.includes(name)) report(`the global ${name}, which it declares for itself`);
  };
  walk(source, {
    MemberExpression({ object, property, computed }) {
      if (object.type !== 'Identifier' || computed || property.type !== 'Identifier') return;
      if (object.name === 'Math' && property.name === 'random') report('Math.random');
      if (object.name === 'Date' && property.name === 'now') report('Date.now');
    },
    NewExpression({ callee, arguments: given }) {
      if (callee.type === 'Identifier' && callee.name === 'Date' && given.length === 0) report('new Date()');
    },
    CallExpression({ callee }) {
      if (callee.type === 'Identifier' && callee.name === 'Date') report('Date()');
    },
    Identifier({ name }) {
      if (name === 'globalThis') report('globalThis');
    },
    ClassDeclaration({ id, declare }) {
      declared(id?.name, declare);
    },
    TSDeclareFunction({ id, declare }) {
      declared(id?.name, declare);
    },
    VariableDeclaration({ declarations, declare }) {
      for (const { id } of declarations) declared(id.type === 'Identifier' ? id.name : '…', declare);
    },
  });
  return found;
};

/** Arguments lie on the stack, which holds some hundred thousand: a backup may have more records. */
export const listsAreNoArguments: Rule = (source) => {
  if (roomOf(source.path) !== 'core') return [];
  const found: string[] = [];
  walk(source, {
    CallExpression({ callee, arguments: given }) {
      if (callee.type !== 'MemberExpression' || callee.property.type !== 'Identifier') return;
      const { name } = callee.property;
      if (!['push', 'unshift', 'max', 'min'].includes(name)) return;
      if (given.some(({ type }) => type === 'SpreadElement'))
        found.push(`${source.path}: spreads a list into ${name}()`);
    },
  });
  return found;
};

const senders = ['fetch', 'XMLHttpRequest', 'WebSocket', 'WebTransport', 'EventSource', 'RTCPeerConnection'];

/**
 * The policy of the page stops every request but a navigation, so no code may start one; and no code has a reason to
 * name the rest. The scripts under src/cli serve the page to a browser of their own and are left out.
 */
export const nothingIsSent: Rule = (source) => {
  if (roomOf(source.path) === 'cli') return [];
  const found: string[] = [];
  const report = (what: string) => found.push(`${source.path}: uses ${what}`);
  const global = (name: string) => ['window', 'self', 'globalThis', 'document', 'navigator'].includes(name);
  walk(source, {
    CallExpression({ callee }) {
      if (callee.type === 'Identifier' && senders.includes(callee.name)) report(callee.name);
    },
    NewExpression({ callee }) {
      if (callee.type === 'Identifier' && senders.includes(callee.name)) report(callee.name);
    },
    MemberExpression({ object, property }) {
      if (property.type !== 'Identifier') return;
      const { name } = property;
      if (name === 'sendBeacon') report(name);
      const owner = object.type === 'Identifier' ? object.name : '';
      if (global(owner) && (senders.includes(name) || name === 'open')) report(`${owner}.${name}`);
      const location =
        owner === 'location' || (object.type === 'MemberExpression' && isNamed(object.property, 'location'));
      if (location && ['assign', 'replace'].includes(name)) report(`location.${name}`);
    },
    AssignmentExpression({ left }) {
      const target = left.type === 'MemberExpression' ? left : null;
      if (isNamed(left, 'location') || (target && isNamed(target.property, 'location'))) report('location =');
      if (!target || !isNamed(target.property, 'href')) return;
      const owner = target.object.type === 'MemberExpression' ? target.object.property : target.object;
      if (isNamed(owner, 'location')) report('location.href =');
    },
    JSXAttribute({ name }) {
      if (name.type === 'JSXIdentifier' && name.name === 'dangerouslySetInnerHTML') report(name.name);
    },
  });
  return found;
};

function isNamed(node: { type: string; name?: unknown }, name: string): boolean {
  return node.type === 'Identifier' && node.name === name;
}

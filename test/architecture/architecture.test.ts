import { describe, expect, it } from 'vitest';
import {
  coreFloorsImportDownwards,
  coreHasNoClockOrChance,
  coreHasOneDoor,
  coreUsesPureLibraries,
  listsAreNoArguments,
  nothingIsSent,
  type Rule,
  roomsImportDownwards,
} from './rules.ts';
import { sources } from './source.ts';

/** Each rule with code that breaks it, one break a line, and code that keeps it. */
const cases: { name: string; rule: Rule; path: string; breaks: string[]; keeps: string[] }[] = [
  {
    name: 'rooms import downwards',
    rule: roomsImportDownwards,
    path: 'src/panes/ports/ports.tsx',
    breaks: [
      "import { open } from '../../core/index.ts';",
      "import { words } from '../../app/words.ts';",
      "export * from '../../core/index.ts';",
      "const later = import('../../app/shell.tsx');",
    ],
    keeps: [
      "import type { Plan } from '../../core/index.ts';",
      "import { type Plan } from '../../core/index.ts';",
      "type Plan = import('../../core/index.ts').Plan;",
      "import { Row } from '../../ui/row.tsx';",
      "import { Button } from 'react-aria-components';",
    ],
  },
  {
    name: 'core imports nothing outside core',
    rule: roomsImportDownwards,
    path: 'src/core/xml/tree.ts',
    breaks: [
      "import { useSession } from '../../state/session.ts';",
      "import data from '../../../public/data.json';",
      "import type { Session } from '../../state/session.ts';",
    ],
    keeps: ["import { lines } from '../text/lines.ts';"],
  },
  {
    name: 'core has one door',
    rule: coreHasOneDoor,
    path: 'src/worker/entry.ts',
    breaks: ["import { read } from '../core/xml/read.ts';", "import type { Tree } from '../core/xml/tree.ts';"],
    keeps: ["import { open } from '../core/index.ts';", "import { open } from '../core';"],
  },
  {
    name: 'the floors of core import downwards',
    rule: coreFloorsImportDownwards,
    path: 'src/core/xml/tree.ts',
    breaks: [
      "import { infer } from '../reading/infer.ts';",
      "import type { Plan } from '../plan/plan.ts';",
      "import { open } from '../index.ts';",
      "import { odd } from '../oddments/odd.ts';",
    ],
    keeps: ["import { lines } from '../text/lines.ts';", "import { bad } from '../trouble';", "import './escape.ts';"],
  },
  {
    name: 'core uses pure libraries only',
    rule: coreUsesPureLibraries,
    path: 'src/core/xml/tree.ts',
    breaks: [
      "import React from 'react';",
      "import { readFileSync } from 'node:fs';",
      "import { wrap } from 'comlink';",
    ],
    keeps: ["import { SaxesParser } from 'saxes';", "import ipaddr from 'ipaddr.js';"],
  },
  {
    name: 'core has no clock and no chance',
    rule: coreHasNoClockOrChance,
    path: 'src/core/checks/dates.ts',
    breaks: [
      'const a = Math.random();',
      'const a = Date.now();',
      'const a = new Date();',
      'const a = Date();',
      'const a = (globalThis as any).crypto;',
      'declare const performance: { now(): number };',
      'declare function setTimeout(run: () => void): number;',
    ],
    keeps: ['const a = new Date(text);', 'declare class TextDecoder {}', 'const a = Math.max(1, 2);'],
  },
  {
    name: 'lists of any length are no arguments',
    rule: listsAreNoArguments,
    path: 'src/core/checks/leases.ts',
    breaks: ['leases.push(...more);', 'leases.unshift(one, ...more);', 'const a = Math.max(...sizes);'],
    keeps: ['append(leases, more);', 'const a = [...leases, ...more];', 'const a = text.slice(...span);'],
  },
  {
    name: 'nothing is sent and no navigation is started',
    rule: nothingIsSent,
    path: 'src/platform/files.ts',
    breaks: [
      "fetch('x');",
      "window.fetch('x');",
      "new WebSocket('x');",
      "navigator.sendBeacon('x');",
      "window.open('x');",
      "location.href = 'x';",
      "window.location.href = 'x';",
      "window.location = 'x' as any;",
      "location.assign('x');",
      "document.location.replace('x');",
    ],
    keeps: ['link.href = URL.createObjectURL(blob);', 'open(bytes);', "text.replace('a', 'b');", 'location.reload();'],
  },
];

const files = sources();

describe('architecture', () => {
  it('finds the code', () => {
    expect(files.map(({ path }) => path)).toContain('src/core/index.ts');
  });

  describe.each(cases)('$name', ({ rule, path, breaks, keeps }) => {
    it('in every file', () => {
      expect(files.flatMap(rule)).toEqual([]);
    });

    it.each(breaks)('and would notice: %s', (text) => {
      expect(rule({ path, text })).toHaveLength(1);
    });

    it.each(keeps)('and allows: %s', (text) => {
      expect(rule({ path, text })).toEqual([]);
    });
  });

  it('has a place for every room and floor', () => {
    expect(roomsImportDownwards({ path: 'src/attic/box.ts', text: '' })).toHaveLength(1);
    expect(coreFloorsImportDownwards({ path: 'src/core/attic/box.ts', text: '' })).toHaveLength(1);
  });
});

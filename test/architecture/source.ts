import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseSync, Visitor, type VisitorObject } from 'vite';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

export interface Source {
  /** From the project's folder, with forward slashes: `src/core/xml/tree.ts`. */
  path: string;
  text: string;
}

export interface Import {
  /** A file from the project's folder without its query, or the name of a package. */
  target: string;
  package: boolean;
  /** Whether nothing of it is left when the types are gone. */
  typeOnly: boolean;
}

/** Every file of the product's code, tests beside it left out. */
export function sources(): Source[] {
  return readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
    .map((name) => posix.join('src', name.replaceAll('\\', '/')))
    .filter((path) => /\.tsx?$/.test(path) && !/\.test\.tsx?$|\.d\.ts$/.test(path))
    .sort()
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }));
}

/** Walks a file's syntax; a file that does not parse is an error of the test, never an empty answer. */
export function walk({ path, text }: Source, visitor: VisitorObject): void {
  const { program, errors } = parseSync(path, text);
  if (errors.length) throw new Error(`${path}: ${errors[0].message}`);
  new Visitor(visitor).visit(program);
}

/** What a file imports: static and dynamic imports, re-exports, and types named by `import('…')`. */
export function importsOf(source: Source): Import[] {
  const found: Import[] = [];
  const add = (from: string, typeOnly: boolean) => {
    const bare = from.replace(/\?.*$/, '');
    const local = bare.startsWith('.');
    const scoped = bare.startsWith('@') ? 2 : 1;
    found.push({
      target: local ? posix.join(posix.dirname(source.path), bare) : bare.split('/').slice(0, scoped).join('/'),
      package: !local,
      typeOnly,
    });
  };
  walk(source, {
    ImportDeclaration({ source: from, importKind, specifiers }) {
      const types = specifiers.every((one) => one.type === 'ImportSpecifier' && one.importKind === 'type');
      add(from.value, importKind === 'type' || (specifiers.length > 0 && types));
    },
    ExportNamedDeclaration({ source: from, exportKind }) {
      if (from) add(from.value, exportKind === 'type');
    },
    ExportAllDeclaration({ source: from, exportKind }) {
      add(from.value, exportKind === 'type');
    },
    ImportExpression({ source: from }) {
      if (from.type === 'Literal' && typeof from.value === 'string') add(from.value, false);
    },
    TSImportType({ source: from }) {
      add(from.value, true);
    },
  });
  return found;
}

import { Makers } from '../../src/core/reading/box-bound/makers.ts';
import { readDetails } from '../../src/core/reading/details.ts';
import { type FieldData, fieldsOf } from '../../src/core/reading/fields/fields.ts';
import { type Outline, outlineOf } from '../../src/core/reading/outline/outline.ts';
import { recordShapes, rowShapes } from '../../src/core/reading/shapes/record-shapes.ts';
import { structureOf } from '../../src/core/reading/shapes/structure.ts';
import { siteAt, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import type { Site } from '../../src/core/xml/site.ts';
import type { Tree } from '../../src/core/xml/tree.ts';

export interface Document {
  readonly tree: Tree;
  readonly outline: Outline;
  readonly fields: readonly FieldData[];
}

export function documentOf(text: string): Document {
  const read = readXml(text);
  if (!read.ok) throw new Error(JSON.stringify(read.trouble));
  const outline = outlineOf(read.value);
  const structure = structureOf(outline);
  const records = recordShapes(structure, outline);
  return { tree: read.value, outline, fields: fieldsOf(outline, structure, rowShapes(structure, records)) };
}

interface At {
  readonly at: string;
  readonly value: string;
}

/** What is taken as known of names: the places that name a record, should name one, or name a port. */
export interface Known {
  readonly refs?: readonly At[];
  readonly dangling?: readonly At[];
  readonly ports?: readonly At[];
}

/** The details of a document, given what names what. */
export function detailsOf({ tree, outline, fields }: Document, { refs = [], dangling = [], ports = [] }: Known = {}) {
  const places = (list: readonly At[]) =>
    list.flatMap(({ at, value }) => (siteAt(tree, at) ? [{ site: siteAt(tree, at)!, value }] : []));
  const named = {
    references: places(refs).map((place) => ({ ...place, from: 0, to: -1, field: 0, tier: 'certain' as const })),
    dangling: places(dangling),
    mentions: places(ports).map((place) => ({ ...place, port: place.value })),
  };
  return readDetails(outline, fields, named, new Makers(outline.values));
}

export const pathsOf = (tree: Tree, list: readonly { site: Site }[]) => list.map(({ site }) => sitePath(tree, site));

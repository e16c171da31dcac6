import { nameOf } from '../../src/core/xml/tree.ts';
import { open } from '../carry/files.ts';

/** Where each name leads, `field value -> tag of the record`, and what is gone, read off the documents by eye. */
export function linksOf(text: string): { readonly names: readonly string[]; readonly gone: readonly string[] } {
  const { reading, backup } = open(text);
  const { tree } = backup;
  return {
    names: reading.references
      .filter(({ tier }) => tier !== 'possible')
      .map(({ value, field, to }) => `${reading.fields[field]!.name} ${value} -> ${nameOf(tree, to)}`),
    gone: reading.dangling.map(({ value }) => value),
  };
}

import type { Section } from '../reading/reading.ts';
import type { Tree } from '../xml/tree.ts';

/** A function from a node to the index of the section it lies in, -1 for none. Sections are in document order. */
export function sectionIndex(tree: Tree, sections: readonly Section[]): (node: number) => number {
  return (node) => {
    let low = 0;
    let high = sections.length - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const top = sections[middle]!.node;
      if (node < top) high = middle - 1;
      else if (node >= tree.after[top]!) low = middle + 1;
      else return middle;
    }
    return -1;
  };
}

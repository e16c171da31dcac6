import { describe, expect, it } from 'vitest';
import { namespaceAt, namespacesOf, unboundPrefixes } from '../../src/core/xml/namespaces.ts';
import { nodeAt, sitePath } from '../../src/core/xml/path.ts';
import { readXml } from '../../src/core/xml/read.ts';
import { cpuTime } from '../tools/cpu-time.ts';

const treeOf = (text: string) => {
  const read = readXml(text);
  if (!read.ok) throw new Error(read.trouble.code);
  return read.value;
};
const namespace = (text: string, path: string) => {
  const tree = treeOf(text);
  const { of, uris } = namespacesOf(tree);
  return uris[of[nodeAt(tree, path)]!] ?? null;
};
const unbound = (text: string) => {
  const tree = treeOf(text);
  return unboundPrefixes(tree).map((site) => `${site.prefix} ${sitePath(tree, site)}`);
};

// Namespaces in XML 1.0 (third edition); the section stands beside each.
describe('namespaces', () => {
  it('gives a default namespace to the element and what is in it (6.2)', () => {
    const text = '<a xmlns="urn:one"><b><c xmlns="urn:two"/></b><d/></a>';
    expect(namespace(text, '/a')).toBe('urn:one');
    expect(namespace(text, '/a/b')).toBe('urn:one');
    expect(namespace(text, '/a/b/c')).toBe('urn:two');
    expect(namespace(text, '/a/d')).toBe('urn:one');
  });
  it('ends a default namespace where it is empty (6.2)', () => {
    expect(namespace('<a xmlns="urn:one"><b xmlns=""/></a>', '/a/b')).toBe(null);
  });
  it('takes a prefix from the nearest declaration, and back at its end (6.1)', () => {
    const text = '<p:a xmlns:p="urn:one"><p:b xmlns:p="urn:two"/><p:c/></p:a>';
    expect(namespace(text, '/p:a/p:b')).toBe('urn:two');
    expect(namespace(text, '/p:a/p:c')).toBe('urn:one');
  });
  it('reads a declaration after the name that uses it, in one tag (6.1)', () => {
    expect(namespace('<p:a id="1" xmlns:p="urn:&#111;ne"/>', '/p:a')).toBe('urn:one');
  });
  it('knows xml: without a declaration (3)', () => {
    expect(unbound('<a xml:lang="en"/>')).toEqual([]);
  });
  it('lists prefixes that nothing declares (5)', () => {
    expect(unbound('<a><b:c d:e="1" f="2"/><g xmlns:b="urn:b"><b:h/></g><b:i/></a>')).toEqual([
      'b /a[1]/b:c[1]/name()',
      'd /a[1]/b:c[1]/@d:e',
      'b /a[1]/b:i[1]/name()',
    ]);
  });
  it('resolves a prefix inside a value', () => {
    const tree = treeOf('<a xmlns:p="urn:one"><b xmlns="urn:two">p:x</b></a>');
    const at = nodeAt(tree, '/a/b');
    expect(namespaceAt(tree, at, 'p')).toBe('urn:one');
    expect(namespaceAt(tree, at, '')).toBe('urn:two');
    expect(namespaceAt(tree, at, 'q')).toBe(null);
  });
  it('stays linear where every element declares', () => {
    const declared = Array.from({ length: 2000 }, (_, k) => `xmlns:p${k}="urn:${k}"`).join(' ');
    const once = (text: string) => {
      const tree = treeOf(text);
      return cpuTime(() => namespacesOf(tree));
    };
    const best = (count: number) => {
      const text = `<a ${declared}>${'<p7:b xmlns="urn:x" xmlns:p7="urn:y"/>'.repeat(count)}</a>`;
      return Math.min(...Array.from({ length: 5 }, () => once(text)));
    };
    // Ten times the elements: about 10 where it is linear, 100 where quadratic.
    const small = best(8000);
    expect(best(80_000) / small).toBeLessThan(40);
  });
});

import { describe, expect, it } from 'vitest';
import { readKnown } from '../../src/core/reading/known/index.ts';
import { treeOf } from './support.ts';

/** A router with many VLANs: interfaces, attachments of which some dangle, and next hops. */
function router(count: number): string {
  const each = (make: (k: number) => string) => Array.from({ length: count }, (_, k) => make(k)).join('\n');
  const net = (k: number) => `10.${(k >> 8) & 255}.${k & 255}`;
  const ip = 'xmlns="urn:ietf:params:xml:ns:yang:ietf-ip"';
  return `<config xmlns="urn:ietf:params:xml:ns:netconf:base:1.0">
<interfaces xmlns="urn:ietf:params:xml:ns:yang:ietf-interfaces">${each(
    (k) =>
      `<interface><name>igc0.${k}</name><ipv4 ${ip}><address><ip>${net(k)}.1</ip><prefix-length>24</prefix-length></address></ipv4></interface>`,
  )}</interfaces>
<acls xmlns="urn:ietf:params:xml:ns:yang:ietf-access-control-list"><attachment-points>${each(
    (k) => `<interface><interface-id>igc0.${k % 7 ? k : `x${k}`}</interface-id></interface>`,
  )}</attachment-points></acls>
<routing xmlns="urn:ietf:params:xml:ns:yang:ietf-routing"><control-plane-protocols><control-plane-protocol><static-routes>
<ipv4 xmlns="urn:ietf:params:xml:ns:yang:ietf-ipv4-unicast-routing">${each(
    (k) => `<route><next-hop><next-hop-address>${net(k)}.9</next-hop-address></next-hop></route>`,
  )}</ipv4></static-routes></control-plane-protocol></control-plane-protocols></routing></config>`;
}

describe('the cost of a known reading', () => {
  it('grows with the document, not with its square', () => {
    const best = (count: number) => {
      const text = router(count);
      return Math.min(
        ...Array.from({ length: 3 }, () => {
          const tree = treeOf(text);
          const start = performance.now();
          const known = readKnown(tree)!;
          const took = performance.now() - start;
          const dangling = Math.ceil(count / 7);
          expect([known.references.length, known.dangling.length]).toEqual([2 * count - dangling, dangling]);
          return took;
        }),
      );
    };
    const small = best(500);
    // Ten times the entries: about 10 where it is linear, 100 where quadratic.
    expect(best(5000) / small).toBeLessThan(40);
  });
});

import { maybeMac } from '../values/mac.ts';
import { readAbout } from './about.ts';
import { readBoxBound } from './box-bound/box-bound.ts';
import type { Makers } from './box-bound/makers.ts';
import { type Holdings, holdingsOf } from './certificates/issuers.ts';
import { readPublicKeys } from './certificates/key-ring.ts';
import { readEmbedded } from './fields/embedded.ts';
import type { FieldData } from './fields/fields.ts';
import { mapLong } from './fields/long-lists.ts';
import { readOutliers } from './fields/outliers.ts';
import { SiteSet } from './fields/site-set.ts';
import { type Strand, strandsOf } from './fields/strands.ts';
import type { Outline } from './outline/outline.ts';
import type { PortMention, Reading, Reference, Span } from './reading.ts';
import { readSecrets } from './secrets/secrets.ts';

type Place = Pick<Span, 'site'>;

/** What is known of the document's names by then: values that name records, or should, and values that name ports. */
export interface Named {
  readonly references: readonly Reference[];
  readonly dangling: readonly Place[];
  readonly mentions: readonly Pick<PortMention, 'site' | 'port'>[];
}

/** Everything that single values tell, once it is known what names what. */
export function readDetails(
  outline: Outline,
  fields: readonly FieldData[],
  { references, dangling, mentions }: Named,
  makers: Makers,
  { material, certificates }: Holdings = holdingsOf(fields),
): Pick<Reading, 'certificates' | 'publicKeys' | 'secrets' | 'boxBound' | 'embedded' | 'outliers' | 'about'> {
  const { tree } = outline;
  const strands = strandsOf(outline, fields);
  const explained = new SiteSet(references, dangling, mentions);
  const certain = references.filter(({ tier }) => tier === 'certain');
  const called = new Set(mapLong(references, ({ value }) => value));
  const areMacs = ({ field: { values }, places }: Strand) =>
    maybeMac(values[places[0]!]!) && makers.areMacs(places.map((place) => values[place]!));
  const secrets = readSecrets(
    strands.filter((strand) => !areMacs(strand)),
    fields,
    material,
    {
      named: new SiteSet(certain),
      taken: explained,
      called,
    },
  );
  const held = new Set(material.map(({ field }) => fields[field]!));
  const certified = new Set(strands.filter(({ field }) => held.has(field)).map(({ company }) => company));
  return {
    certificates,
    publicKeys: readPublicKeys(material),
    secrets,
    boxBound: readBoxBound(tree, strands, mentions, new SiteSet(certain, mentions), { called, certified }),
    embedded: readEmbedded(fields, new SiteSet(secrets, material)),
    outliers: readOutliers(fields, material, explained),
    about: readAbout(tree, strands, references),
  };
}

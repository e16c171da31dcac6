import type { AddedRecord } from '../compile/edits.ts';
import type { DeviceIndex, RoleSeat } from '../compile/seats.ts';
import type { Plan } from '../plan/plan.ts';
import type { ProvenCertificate } from '../reading/certificates/certificates.ts';
import type { Certificate, Dangling, Reading } from '../reading/reading.ts';
import type { Decoded } from '../text/decode.ts';
import type { Place } from '../views.ts';
import type { Site } from '../xml/site.ts';
import type { Tree } from '../xml/tree.ts';
import type { SetValue } from './amended/set-value.ts';

/** What every family of checks is given. */
export interface CheckInput {
  readonly tree: Tree;
  readonly decoded: Decoded;
  /** With the values that the plan sets; see amended/amended.ts. */
  readonly reading: Reading;
  /** As the donor has it. */
  readonly donor: Reading;
  /** What the plan sets, by site. */
  readonly set: ReadonlyMap<number, SetValue>;
  /** References that lost their record by that. */
  readonly lost: ReadonlySet<Dangling>;
  readonly plan: Plan;
  /** New names of ports, by old name. */
  readonly renames: ReadonlyMap<string, string>;
  /** Where every role sits in the result. */
  readonly seats: readonly RoleSeat[];
  readonly devices: DeviceIndex;
  /** Records of tagged devices, and fields, that the plan adds. */
  readonly added: readonly AddedRecord[];
  /** Names of the new box's ports; null where they are not known. */
  readonly receiver: readonly string[] | null;
  /** Whether the plan leaves anything out. */
  readonly leaves: boolean;
  /** Whether the plan leaves a node out. */
  readonly gone: (node: number) => boolean;
  /** Subject of the decision that leaves a node out, null where none does. */
  readonly leftBy: (node: number) => string | null;
  readonly place: (site: Site) => Place;
  readonly recordNamed: (node: number) => string;
  /** Whether the plan decides anything about the result; corrections of the reading do not count. */
  readonly planned: boolean;
  /** The time of asking, ISO 8601; null where nothing is to be judged by time. */
  readonly now: string | null;
  /** The reading's certificates with what is known of their signatures; null where none was tried yet. */
  readonly proven: readonly (Certificate | ProvenCertificate)[] | null;
  /** Version mark of the receiver's own backup, null for unknown. */
  readonly receiverVersion: string | null;
}

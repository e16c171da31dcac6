import { isGenerated, type Kind } from '../names/literals.ts';
import type { Reach } from '../numbers/number-chance.ts';
import type { Tier } from '../reading.ts';

/** What is known about "this field names records of that kind by this key", counted over distinct tokens. */
export interface Evidence {
  /** Tokens that are keys, and how telling the most telling one is. */
  hits: number;
  /** Sum over hits of how unlikely each is by chance, in nats, capped by the caller. */
  surprise: number;
  /** Tokens that could be names and are none, by how well they fit the keys' form. */
  alikeMisses: number;
  otherMisses: number;
  vocabularyMisses: number;
  /** Words in common, 0 to 1. */
  name: number;
  /** Of numbers, log-odds by all fields of the name; negative where they name other records, 0 for nothing known. */
  fit: number;
  /** Numbers that may be one of the records', gone ones included; null where that is not known. */
  reach: Reach | null;
  /** The same leaf name resolved to this key elsewhere: 1, to another key: -1. */
  habit: number;
  strength: number;
  best: boolean;
  /** The names are of devices, and the records are devices. */
  device: boolean;
  kind: Kind;
  ownKey: boolean;
  wrongWay: boolean;
  /** Its names are of one form with a number in it, or begin or end alike, so what is like them is one. */
  oneForm: boolean;
  /** The key's own values name records of another kind. */
  referrer: boolean;
  /** Those other records have all of the names, too: they are what is meant. */
  relay: boolean;
  /** Other fields name these records by another key. */
  rival: boolean;
  /** Records of other kinds are named by a key of that name. */
  usual: boolean;
  /** The records have a name to be named by, no other field does so, and no others have any of the names. */
  unnamed: boolean;
  /** Another field names these records beside those that this one was found to name. */
  companion: boolean;
  /** It tells its own records apart by a field of that name, and those that it would name name these. */
  answered: boolean;
  /** Another field of the same records surely names these: source and destination. */
  beside: boolean;
  sameShape: boolean;
  /** The field's numbers count its own records: an order, or a weight. */
  ownCount: boolean;
  repeats: boolean;
  /** Literals in the field and in the target records. */
  sameLiterals: boolean;
  /** One value, and that of the only record of its kind, or several words where most records go by one. */
  lone: boolean;
  /** Both are phrases under one name: two labels that say the same. */
  sharedLabel: boolean;
  /** The field tells its own records apart and is called as the key is: their name. */
  ownName: boolean;
  /** The key is a label beside another one. */
  secondLabel: boolean;
  /** Of labels, some value that none explains has more words than any of them: the field holds remarks. */
  remarks: boolean;
  /** Fields of this name mostly hold free text. */
  freeText: boolean;
  /** What proves it apart from the odds; null for nothing. */
  proof: Proof | null;
  /** Set where the technician said so. */
  confirmed?: boolean;
}

/**
 * What proves that a field names records: their certificates issued those beside the values; words for their kind stand before
 * or beside the names; they stand where what a network sits on is named in another way; the values are the numbers of the VLANs that
 * they define.
 */
export type Proof = 'issuer' | 'kind' | 'seat' | 'vlan';

/** Log-odds of what is proven. */
export const PROVEN = 6;
const PROOF: Record<Proof, number> = { issuer: PROVEN, kind: PROVEN, seat: PROVEN, vlan: 3 };

/** Log-odds that the evidence is no coincidence. */
export function score(e: Evidence): number {
  if (e.hits === 0) return -9;
  if (e.proof) return PROOF[e.proof];
  if (e.sharedLabel) return -9;
  const phrases = e.kind === 'phrase';
  if (phrases && e.hits < (e.hits + e.alikeMisses + e.otherMisses) * 0.49) return -9;
  if (e.kind === 'integer') return scoreNumbers(e);
  const misses =
    e.alikeMisses * (e.oneForm ? 0.15 : holdsNames(e) ? 0.25 : 0.5) + e.otherMisses * 1.4 + e.vocabularyMisses * 0.25;
  const coverage = e.hits / (e.hits + misses);
  // One hit among many names is a coincidence, however telling the hit.
  const least = e.beside ? 0.3 : 0.34;
  const few = e.hits < (e.hits + e.alikeMisses + e.otherMisses) * least && !e.companion ? 4 : 0;
  let odds = -2.4 - few + e.surprise + 0.6 + 1.8 * Math.log(coverage);
  odds += 2.4 * e.name + (e.habit > 0 ? 2 : e.habit < 0 ? -0.8 : 0);
  odds += e.kind === 'phrase' ? 0.3 : Math.max(-2, Math.min(1, 0.5 * (e.strength - 1.5)));
  if (e.device) odds += 1;
  else if (!e.best) odds -= e.usual ? 0 : e.kind === 'phrase' ? 0.2 : 1.6;
  if (e.usual && !e.freeText) odds += 0.8;
  if (e.unnamed) odds += 0.5;
  if (e.referrer) odds -= e.relay ? 3 : 1.5;
  if (e.rival) odds -= 2;
  if (e.secondLabel) odds -= 3;
  if (e.ownName && misses > 0) odds -= 2;
  if (e.answered) odds -= 3;
  if (e.companion) odds += 2;
  if (e.beside) odds += 1;
  if (e.ownKey) odds -= e.hits < 2 ? 2.2 : coverage > 0.95 ? 0.5 : coverage > 0.75 ? 1.3 : 3.6;
  if (e.wrongWay) odds -= 6;
  if (e.sameShape) odds -= 0.8;
  if (e.repeats) odds += 0.4;
  if (e.sameLiterals) odds += 0.8;
  // What is equal once, and called otherwise, is rather the box's own name, as accounts have it.
  if (e.lone && !e.usual && e.name < 0.5 && e.habit <= 0) odds -= 2.5;
  if (e.freeText || e.remarks) odds -= 3;
  return odds;
}

/** True where a field has nothing but what could be names of records that go by such, most of which are. */
const holdsNames = (e: Evidence) =>
  e.kind === 'name' && e.best && !e.ownKey && e.otherMisses + e.vocabularyMisses === 0 && e.alikeMisses <= e.hits;

/** Small numbers occur everywhere, so the names have to say what they number, and nearly all have to exist. */
function scoreNumbers(e: Evidence): number {
  if (e.reach?.nowhere) return Math.max(e.fit, scoreNumbers({ ...e, fit: 0, reach: null }));
  if (e.fit <= 0 && (!e.best || e.ownKey || e.wrongWay)) return -9;
  const all = e.hits + e.alikeMisses + e.otherMisses + e.vocabularyMisses;
  if (e.ownCount && (all > e.hits || (e.name < 0.6 && e.fit <= 0))) return -9;
  const coverage = e.hits / all;
  if (coverage < 0.5 && e.fit <= 0) return -9;
  let odds = -3.6 + 6 * e.name + Math.min(1.5, 0.4 * Math.log2(1 + e.hits)) + 3 * Math.log(coverage);
  // Of more digits than a count has they are less likely so by chance.
  odds += Math.min(1, Math.max(0, e.surprise - COUNTED * e.hits));
  if (e.habit > 0) odds += 1.5;
  if (e.sameShape) odds -= 0.6;
  if (e.fit < 0) odds += e.fit;
  return e.fit > 0 ? Math.max(odds, e.fit) : odds;
}

export function tierOf(odds: number): Tier | null {
  return odds >= 1.2 ? 'certain' : odds >= 0 ? 'likely' : odds >= -1 ? 'possible' : null;
}

/** Letters with a number behind them are no word. */
const numbered = /^\p{L}{1,2}\d{1,2}$/u;

/** How telling a small number is, in nats. */
const COUNTED = 0.4;

/** How unlikely it is that a token of this form is a key by chance, in nats. */
export function surpriseOf(token: string, kind: Kind, otherFields: number): number {
  if (kind === 'opaque') return 6;
  if (kind === 'integer') return token.length >= 5 ? 2.5 : token.length >= 3 ? 1 : COUNTED;
  if (isGenerated(token)) return 4.5;
  const length =
    kind === 'phrase'
      ? 3.2
      : token.length >= 8
        ? 3
        : token.length >= 4 || numbered.test(token)
          ? 2.3
          : token.length >= 2
            ? 1.5
            : 0.7;
  return length / (1 + 0.15 * otherFields);
}

const proofWords: Record<Proof, string> = {
  issuer: 'the certificates beside the values were issued by those of the records',
  kind: 'words beside the names say of what kind the records are',
  seat: 'each network has the one or the other: a port, or a VLAN on one',
  vlan: 'the values are the numbers of VLANs that the records define',
};

/** In plain words, the strongest first. */
export function wordsFor(e: Evidence, total: number, targetName: string): string[] {
  if (e.confirmed) return ['you said so'];
  if (e.proof) return [proofWords[e.proof]];
  const words = [`${e.hits} of ${total} values exist in ${targetName}`];
  if (e.kind === 'opaque') words.push('the values are identifiers that nothing else has by chance');
  if (e.habit > 0) words.push('fields of the same name elsewhere name the same records');
  if (e.name >= 0.5) words.push('the names are alike');
  if (e.sameLiterals) words.push('its other values are of the kind that those records hold');
  if (e.ownKey) words.push('but it also tells its own records apart');
  return words;
}

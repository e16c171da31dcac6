import { transfer } from 'comlink';
import {
  aroundOf,
  asPlanned,
  type Backup,
  type BackupView,
  backupView,
  build,
  careOf,
  compare,
  correctionsOf,
  dependentsOf,
  documentAt,
  emptyPlan,
  fieldsOf,
  findingsOfPart,
  keyOptions,
  type LedgerView,
  linesOf,
  openBackup,
  type Plan,
  type PlanView,
  type ProvenCertificate,
  planView,
  portsOfBackup,
  provenCertificates,
  type Reading,
  type Receiver,
  readDevices,
  readMeaning,
  receiverFromBackup,
  recordsOf,
  resultName,
  resultOf,
  suggest,
} from '../core/index.ts';
import { newCarryDesk } from './carry-desk.ts';
import type { Desk } from './protocol.ts';

/** Certificates whose signatures were tried. */
interface Tried {
  readonly of: Reading['certificates'];
  readonly list: readonly ProvenCertificate[];
}

/** What one backup needs on the worker's side; the reading is made again only where the corrections changed. */
export function newDesk(): Desk {
  let backup: Backup | null = null;
  let reading: Reading | null = null;
  let corrections = '[]';
  let shown: { readonly of: Reading; readonly view: BackupView } | null = null;

  let proven: Tried | null = null;

  const opened = (): Backup => {
    if (!backup) throw new Error('no backup is open');
    return backup;
  };
  const meaning = (plan: Plan, progress?: (done: number, total: number) => void): Reading => {
    const asked = JSON.stringify(correctionsOf(plan));
    if (reading && asked === corrections) return reading;
    const made = readMeaning(opened().tree, { corrections: correctionsOf(plan), ...(progress && { progress }) });
    reading = made;
    corrections = asked;
    return made;
  };
  const backupShown = (made: Reading): BackupView => {
    if (shown?.of !== made) shown = { of: made, view: backupView(opened(), made) };
    return shown.view;
  };

  /** Corrections seldom touch certificates, so what was tried for an earlier reading still holds. */
  const provenOf = ({ certificates }: Reading): readonly ProvenCertificate[] | null => {
    if (proven && proven.of !== certificates) {
      const same = JSON.stringify(proven.of) === JSON.stringify(certificates);
      proven = same ? { ...proven, of: certificates } : null;
    }
    return proven?.list ?? null;
  };
  /** What was tried of the certificates that a plan sets. */
  let provenSet: Tried | null = null;

  const circumstances = (made: Reading, receiver: Receiver | null = null) => ({
    now: new Date().toISOString(),
    receiver: receiver === null ? null : receiver.ports.map(({ name }) => name),
    receiverVersion: receiver?.version ?? null,
    proven: provenOf(made),
    provenSet,
  });
  const carry = newCarryDesk((plan) => ({ backup: opened(), reading: meaning(plan) }));
  /** What a plan leads to, in the result that it asks for. */
  const viewOf = (plan: Plan, receiver: Receiver | null): PlanView => {
    const made = planView(opened(), meaning(plan), carry.said(plan), circumstances(meaning(plan), receiver));
    const ledger = carry.ledgerOf(plan);
    const findings = findingsOfPart(made.findings, resultOf(plan), carry.looseOf(plan));
    return { ...made, ...(ledger && { ledger }), findings };
  };

  const buildFile = (plan: Plan, ledger: LedgerView) => {
    const built = build(opened(), meaning(plan), carry.said(plan));
    if (!built.ok)
      return { bytes: null, verdict: { agrees: false, trouble: built.trouble } as const, ledger, receiver: null };
    const { bytes, elements } = built.value;
    return { bytes, verdict: { agrees: true, elements } as const, ledger, receiver: null };
  };

  return {
    ...carry.calls,
    async open(bytes, name, progress) {
      const read = openBackup(new Uint8Array(bytes), name, (done, total) => progress('reading', done, total));
      if (!read.ok) return read;
      backup = read.value;
      reading = null;
      proven = null;
      provenSet = null;
      meaning(emptyPlan, (done, total) => progress('meaning', done, total));
      return { ok: true, value: { hash: read.value.hash } };
    },
    async view(plan, receiver = null) {
      return { backup: backupShown(meaning(plan)), plan: viewOf(plan, receiver) };
    },
    async signatures(plan) {
      const own = meaning(plan);
      const set = asPlanned(opened(), own, plan);
      const isNew = own.certificates.length > 0 && provenOf(own) === null;
      const isSet = set.certificates !== own.certificates && provenSet?.of !== set.certificates;
      if (isNew) proven = { of: own.certificates, list: await provenCertificates(own) };
      if (isSet) provenSet = { of: set.certificates, list: await provenCertificates(set) };
      return isNew || isSet;
    },
    async suggest(plan, receiver) {
      const old = portsOfBackup(opened().tree, meaning(plan));
      return {
        old,
        by: {
          order: suggest('order', old, receiver),
          speed: suggest('speed', old, receiver),
          label: suggest('label', old, receiver),
          'hardware-address': suggest('hardware-address', old, receiver),
        },
      };
    },
    async dependents(plan, path) {
      return dependentsOf(opened(), meaning(plan), path);
    },
    async receiverOf(bytes, name, progress) {
      const read = openBackup(new Uint8Array(bytes), name, (done, total) => progress('reading', done, total));
      if (!read.ok) return read;
      const { tree } = read.value;
      return receiverFromBackup(
        tree,
        readMeaning(tree, { progress: (done, total) => progress('meaning', done, total) }),
        name,
      );
    },
    async devices(text) {
      return readDevices(text);
    },
    async build(plan) {
      const { ledger } = viewOf(plan, null);
      const name = resultName(
        carry.receiverName() && resultOf(plan) === 'graft' ? carry.receiverName()! : opened().name,
      );
      const { bytes, ...told } = carry.buildOf(plan, ledger) ?? buildFile(plan, ledger);
      const balances = told.ledger.balances && told.receiver?.balances !== false;
      if (!bytes) return { ...told, bytes: null, name, sha256: null };
      const digest = await sha256(bytes);
      return transfer({ ...told, bytes: balances ? bytes.buffer : null, name, sha256: digest }, [bytes.buffer]);
    },
    async records(query) {
      return recordsOf(opened(), reading ?? meaning(emptyPlan), query);
    },
    async fields(plan, query) {
      return fieldsOf(opened(), meaning(plan), query);
    },
    async keyOptions(plan, collection) {
      return keyOptions(opened(), meaning(plan), collection);
    },
    async care(plan) {
      return careOf(opened(), meaning(plan), provenOf(meaning(plan)));
    },
    async document(plan, path) {
      return documentAt(opened(), meaning(plan), path);
    },
    async lines(from, to) {
      return linesOf(opened(), reading ?? meaning(emptyPlan), from, to);
    },
    async around(start, end, units) {
      return aroundOf(opened(), reading ?? meaning(emptyPlan), start, end, units);
    },
    async compare(plan, section, limit) {
      const made = compare(opened(), meaning(plan), carry.said(plan), section, limit);
      if (!made) throw new Error(`nothing stands at ${section}`);
      return made;
    },
  };
}

/** Hex digest (FIPS 180-4); null where the page has no secure context and so no digest. */
async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string | null> {
  if (!globalThis.crypto?.subtle) return null;
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

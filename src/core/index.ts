/** The only door to the core. */

export { chosen } from './carry/chosen.ts';
export { type Fit, type FitEntry, type FitPart, fit } from './carry/fit.ts';
export type { FitReason } from './carry/fit-judge.ts';
export type { Clash, Graft, GraftRequest, Pick, Placed } from './carry/graft.ts';
export type { Loose } from './carry/graft-loose.ts';
export type { Answer, Mode } from './carry/merge.ts';
export { kinship } from './carry/names.ts';
export { outlineOf, sealed } from './carry/outline.ts';
export { effective, tickRows } from './carry/part.ts';
export { tick } from './carry/tick.ts';
export { backupView } from './desk/backup/backup-view.ts';
export { dependentsOf } from './desk/backup/dependents.ts';
export { documentAt } from './desk/backup/document-views.ts';
export { careOf, fieldsOf, keyOptions } from './desk/backup/field-views.ts';
export { type Backup, type OpenBackup, openBackup } from './desk/backup/open.ts';
export { recordsOf } from './desk/backup/records.ts';
export { formAt, type Switch, switchOf, type ValueHint, valueHint } from './desk/backup/value-hints.ts';
export { accountRows } from './desk/carry/account-rows.ts';
export { certificateList } from './desk/carry/carry-certificates.ts';
export { carryDetail } from './desk/carry/carry-detail.ts';
export { boxBoundList, type Has, lackingList, repoint } from './desk/carry/carry-lists.ts';
export { CarryView } from './desk/carry/carry-view.ts';
export { carryWindow } from './desk/carry/carry-window.ts';
export { type FitPartView, type FitView, fitView } from './desk/carry/fit-view.ts';
export { type BuiltGraft, buildGraft, planGraft } from './desk/graft/build-graft.ts';
export { compareGraft, graftChanges } from './desk/graft/graft-changes.ts';
export {
  builtGraft,
  graftLedger,
  graftOf,
  graftState,
  type Planned,
  receiverLedgerOf,
  receiverMark,
} from './desk/graft/graft-state.ts';
export { type Inspection, inspect } from './desk/inspect.ts';
export { type Built, build, planTrouble } from './desk/plan/build.ts';
export { type Around, aroundOf, type Comparison, compare, linesOf } from './desk/plan/compare.ts';
export { asPlanned } from './desk/plan/findings.ts';
export { findingsOfPart } from './desk/plan/part-findings.ts';
export { planView } from './desk/plan/plan-view.ts';
export { resultName } from './handover/file-name.ts';
export * from './plan/history.ts';
export * from './plan/plan.ts';
export * from './plan/save.ts';
export { type ProvenCertificate, provenCertificates } from './reading/certificates/certificates.ts';
export { readMeaning } from './reading/index.ts';
export type * from './reading/reading.ts';
export { portsOfBackup, receiverFromBackup } from './receiver/from-backup.ts';
export { type DevicesRead, type PasteShape, readDevices } from './receiver/from-paste/read-devices.ts';
export * from './receiver/receiver.ts';
export * from './receiver/save.ts';
export * from './receiver/suggest.ts';
export type { Encoding } from './text/encodings.ts';
export type { Result, Trouble, TroubleCode } from './trouble.ts';
export type { AsWritten } from './values/material-form.ts';
export type * from './views.ts';
export { pathOf } from './xml/path.ts';
export { readXml } from './xml/read.ts';

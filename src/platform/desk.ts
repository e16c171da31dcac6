import { proxy, releaseProxy, transfer, wrap } from 'comlink';
import type { BackupView, DevicesRead, Receiver, Result } from '../core/index.ts';
import DeskWorker from '../worker/entry.ts?worker&inline';
import type { Desk, WarmDesk } from '../worker/protocol.ts';
import type { DeskAtWork } from './desks.ts';

type Answer<K extends keyof Desk> = Awaited<ReturnType<Desk[K]>>;

/** Starts a worker. One that dies, for want of memory say, refuses what is asked instead of leaving it open. */
export function startDesk(): DeskAtWork {
  const worker = new DeskWorker();
  const remote = wrap<WarmDesk>(worker);
  let stop: (reason: Error) => void = () => {};
  const stopped = new Promise<never>((_, reject) => {
    stop = reject;
  });
  stopped.catch(() => {});
  worker.addEventListener('error', (event) => stop(new Error(event.message || 'The reader stopped without a reason.')));
  worker.addEventListener('messageerror', () => stop(new Error('An answer of the reader could not be read.')));
  const answer = <T>(asked: Promise<T>): Promise<Awaited<T>> => Promise.race([asked, stopped]);
  return {
    open: (bytes, name, progress) =>
      answer<Result<Pick<BackupView, 'hash'>>>(remote.open(transfer(bytes, [bytes]), name, proxy(progress))),
    view: (plan, receiver) => answer(remote.view(plan, receiver)),
    signatures: (plan) => answer(remote.signatures(plan)),
    suggest: (plan, receiver) => answer(remote.suggest(plan, receiver)),
    dependents: (plan, path) => answer(remote.dependents(plan, path)),
    receiverOf: (bytes, name, progress) =>
      answer<Result<Receiver>>(remote.receiverOf(transfer(bytes, [bytes]), name, proxy(progress))),
    devices: (text) => answer<Result<DevicesRead>>(remote.devices(text)),
    build: (plan) => answer(remote.build(plan)),
    records: (query) => answer(remote.records(query)),
    fields: (plan, query) => answer(remote.fields(plan, query)),
    keyOptions: (plan, collection) => answer(remote.keyOptions(plan, collection)),
    care: (plan) => answer(remote.care(plan)),
    document: (plan, path) => answer(remote.document(plan, path)),
    lines: (from, to) => answer(remote.lines(from, to)),
    around: (start, end, units) => answer(remote.around(start, end, units)),
    compare: (plan, section, limit) => answer(remote.compare(plan, section, limit)),
    account: (plan) => answer(remote.account(plan)),
    carryWindow: (plan, query) => answer(remote.carryWindow(plan, query)),
    seal: (plan) => answer(remote.seal(plan)),
    graftChanges: (plan) => answer(remote.graftChanges(plan)),
    compareGraft: (plan, section, limit) => answer(remote.compareGraft(plan, section, limit)),
    carryLists: (plan, receiver) => answer(remote.carryLists(plan, receiver)),
    carryDetail: (plan, id) => answer(remote.carryDetail(plan, id)),
    tick: (plan, ids, carried, withNeeds) => answer(remote.tick(plan, ids, carried, withNeeds)),
    tryValue: (plan, path, value) => answer(remote.tryValue(plan, path, value)),
    receive: (bytes, name, progress) =>
      answer<Answer<'receive'>>(remote.receive(bytes && transfer(bytes, [bytes]), name, proxy(progress))),
    graft: (plan) => answer<Answer<'graft'>>(remote.graft(plan)),
    fit: (plan) => answer(remote.fit(plan)),
    practise: (text) => answer(remote.practise(text)),
    end() {
      stop(new Error('The reader was ended.'));
      remote[releaseProxy]();
      worker.terminate();
    },
  };
}

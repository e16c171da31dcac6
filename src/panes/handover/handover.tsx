import { useState } from 'react';
import type { BuildView } from '../../core/index.ts';
import { choose, download } from '../../platform/files.ts';
import { markSafe, planText, takePlan } from '../../state/decide.ts';
import { resultOf, saidIn } from '../../state/results.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useDesk } from '../../state/session.ts';
import { Tick } from '../../ui/controls.tsx';
import { Mark } from '../../ui/marks.tsx';
import { Said } from '../../ui/said.tsx';
import { Scroll } from '../../ui/scroll.tsx';
import { SheetHead } from '../../ui/sheet-head.tsx';
import { Weight } from '../../ui/weight.tsx';
import { resultNames } from '../../words/carry.ts';
import { count, number, size } from '../../words/numbers.ts';
import { placeWords, troubleWords } from '../../words/trouble.ts';
import { weightOf } from '../../words/weights.ts';
import { Results } from '../carry/results.tsx';
import { AccountFile } from './account-file.tsx';
import './handover.css';
import { PlanFit } from './fit.tsx';
import { Paper } from './sheet.tsx';
import { useBuild } from './use-build.ts';

export default function Handover() {
  const opened = useOpened();
  const plan = usePlan();
  const building = useBuild(opened.id, plan);
  const built = building.state === 'built' ? building.view : null;
  const [typed, setTyped] = useState<string | null>(null);
  const [read, setRead] = useState<unknown>(null);
  const [done, setDone] = useState<string | null>(null);
  const heavy = opened.view.findings.filter((finding) => ['stop', 'break'].includes(weightOf(finding)));
  // What was read holds for these findings only; others ask again.
  const mark = heavy
    .map((finding) => `${finding.code} ${finding.place?.path} ${Object.values(finding.params)}`)
    .join('\n');
  const hasRead = heavy.length === 0 || read === mark;
  const name = typed ?? built?.name ?? '';
  const badName = nameTrouble(name, opened.file.name);
  const ready = built?.bytes && built.verdict.agrees && built.ledger.balances && hasRead && !badName && !opened.behind;
  const get = () => {
    if (!ready || !built.bytes) return;
    download(built.bytes, name.trim(), 'application/octet-stream');
    markSafe(plan);
    setDone(name.trim());
  };
  return (
    <div className="pane">
      <SheetHead
        no={6}
        title="Hand-over"
        acts={
          <button type="button" className="btn small" onClick={() => window.print()}>
            Print this sheet
          </button>
        }
      >
        {sentence(building.state, built, hasRead)}
      </SheetHead>
      <div className="handover">
        <Paper receiver={built?.receiver ?? null} />
        <Scroll as="aside" className="side" label="The file that goes out">
          <section>
            <h3>What comes out</h3>
            <Results result={resultOf(plan)} />
            <p className="dim">{resultNames[resultOf(plan)][1]}.</p>
          </section>
          <section>
            <label className="cap" htmlFor="file-out">
              File out
            </label>
            <input
              id="file-out"
              className="field"
              spellCheck={false}
              autoComplete="off"
              value={name}
              aria-invalid={badName !== null && built !== null}
              aria-describedby="file-out-trouble"
              onChange={(event) => setTyped(event.target.value)}
            />
            <div id="file-out-trouble" className="wrong">
              {built && badName}
            </div>
            <div className="mono hash">
              {built?.bytes && `${size(built.bytes.byteLength)}. `}
              {built?.sha256 && `SHA-256 ${built.sha256.replace(/.{8}/g, '$& ').trim()}`}
              {built?.bytes && !built.sha256 && 'No SHA-256: this page was not opened over a secure connection.'}
            </div>
          </section>
          <section>
            <h3>Checked before you may download</h3>
            <ul className="lines checks">
              <Check
                state={built ? built.verdict.agrees : null}
                yes="Second reader agrees"
                no={
                  built && !built.verdict.agrees && built.verdict.trouble.code.startsWith('second-reader-')
                    ? 'Second reader does not agree'
                    : 'Nothing is built that could be read again'
                }
                amount={built?.verdict.agrees ? count(built.verdict.elements, 'element') : ''}
              />
              <Check
                state={built ? built.ledger.balances : null}
                yes="Ledger balances"
                no="Ledger does not balance"
                amount={
                  built
                    ? `${number(built.ledger.carried + built.ledger.changed + built.ledger.leftOut)} of ${number(built.ledger.records)}`
                    : ''
                }
              />
              {built?.receiver && (
                <Check
                  state={built.receiver.balances}
                  yes="New box’s ledger balances"
                  no="New box’s ledger does not balance"
                  amount={`${number(built.receiver.kept)} kept, ${number(built.receiver.replaced)} replaced, ${number(built.receiver.removed)} removed, ${number(built.receiver.added)} added`}
                />
              )}
              {heavy.length > 0 && (
                <li>
                  <span className="told">
                    <Tick
                      state={hasRead ? 'on' : 'off'}
                      label={`I have read the ${count(heavy.length, 'finding')} that stop or break something`}
                      onChange={(on) => setRead(on ? mark : null)}
                    />
                    <span>
                      I have read the{' '}
                      <button type="button" className="link" onClick={() => useDesk.setState({ sheet: 'findings' })}>
                        {count(heavy.length, 'finding')}
                      </button>{' '}
                      that stop or break something
                    </span>
                  </span>
                  <Weight weight={weightOf(heavy[0]!)} />
                </li>
              )}
            </ul>
            {building.state === 'failed' && <Failed message={building.message} />}
            {built && <Blocked built={built} />}
            <div className="get-note">
              <button type="button" className="btn next get" aria-disabled={!ready} onClick={get}>
                Download {name}
              </button>
              <p className="dim" role="status">
                {done === null
                  ? why(Boolean(ready), built, hasRead, badName)
                  : `${done} was handed to your browser, with ${count(saidIn(plan).length, 'decision')} in it.`}
              </p>
            </div>
          </section>
          <AccountFile name={name} />
          <PlanSection />
          <section className="quiet grow">
            <h3>Keep on this computer</h3>
            <p className="dim">Nothing is kept when you close the page. Save the plan if you need it again.</p>
          </section>
        </Scroll>
      </div>
    </div>
  );
}

function sentence(state: string, built: BuildView | null, hasRead: boolean): string {
  if (state === 'building') return 'The result is being built and read again.';
  if (!built?.bytes) return 'The file cannot go out yet. The reason stands at the side.';
  return hasRead
    ? 'The file is ready, and the sheet for the night that goes with it.'
    : 'The file is built. Some findings need your tick first.';
}

function why(ready: boolean, built: BuildView | null, hasRead: boolean, badName: string | null): string {
  if (ready) return 'The old file stays as it is.';
  if (!built) return 'One moment: the result is read again by a second reader.';
  if (!built.bytes) return 'Not yet: see above.';
  if (badName) return 'Not yet: the file needs another name.';
  return hasRead ? 'One moment.' : 'Not yet: tick that you have read the findings.';
}

/** A result that had the input's name could be taken for it. */
function nameTrouble(name: string, input: string): string | null {
  const text = name.trim();
  if (text === '') return 'The file needs a name.';
  if (/[\\/:*?"<>|]/.test(text) || [...text].some((char) => char < ' '))
    return 'A file name has none of \\ / : * ? " < > |.';
  return text.toLowerCase() === input.toLowerCase() ? 'That is the old file’s name. Give the result another.' : null;
}

function Check({ state, yes, no, amount }: { state: boolean | null; yes: string; no: string; amount: string }) {
  return (
    <li className={state === false ? 'wrong' : undefined}>
      <span>
        <Mark name={state === null ? 'note' : state ? 'ok' : 'stop'} />
        {state === null ? `${yes}: being checked` : state ? yes : no}
      </span>
      <span className="dim">{amount}</span>
    </li>
  );
}

function Blocked({ built }: { built: BuildView }) {
  if (!built.verdict.agrees) {
    const { title, sentence: what, advice } = troubleWords(built.verdict.trouble);
    const place = placeWords(built.verdict.trouble);
    return (
      <div className="blocked" role="alert">
        <b>
          <Weight weight="stop">{title}</Weight>
        </b>
        <p>
          <Said parts={what} /> {place && `It is at ${place}.`}
        </p>
        <p className="dim">{advice}</p>
      </div>
    );
  }
  if (built.ledger.balances && built.receiver?.balances !== false) return null;
  return (
    <div className="blocked" role="alert">
      <Weight weight="stop">The ledger does not balance</Weight>
      <p>
        The sum of what is carried, changed and left out is not the number of records. That is our fault; the file stays
        here so that nothing is lost unseen. Save the plan, and undo your decisions one by one to find the one.
      </p>
    </div>
  );
}

function Failed({ message }: { message: string }) {
  return (
    <div className="blocked" role="alert">
      <Weight weight="stop">The result could not be built</Weight>
      <p>That is our fault. Your file and your decisions are still here.</p>
      <p className="mono dim">{message}</p>
    </div>
  );
}

/** The plan as a small file, for the next backup of the same box. */
function PlanSection() {
  const { file } = useOpened();
  const plan = usePlan();
  const strange = useDesk((state) => state.strange);
  const [trouble, setTrouble] = useState<Awaited<ReturnType<typeof takePlan>>>(null);
  const save = async () => {
    const stem = file.name.replace(/\.[A-Za-z0-9]{1,8}$/, '') || 'backup';
    download(await planText(), `${stem}.plan.json`, 'application/json');
  };
  const load = async () => {
    const chosen = await choose('.json,application/json');
    if (chosen) setTrouble(await takePlan(await chosen.text(), chosen.name));
  };
  const words = trouble && troubleWords(trouble);
  return (
    <section>
      <h3>The plan</h3>
      <p>
        {saidIn(plan).length ? count(saidIn(plan).length, 'decision') : 'No decision yet'}. A saved plan holds names of
        ports and places, and the values that you set: where one is a secret, keep the plan as safe as the backup.
      </p>
      <div className="row plan-acts">
        <button type="button" className="btn small" onClick={save}>
          Save the plan
        </button>
        <button type="button" className="btn small plan" onClick={load}>
          Load a plan…
        </button>
      </div>
      {words && (
        <div className="blocked" role="alert">
          <b>{words.title}</b>
          <p>
            <Said parts={words.sentence} />
          </p>
          <p className="dim">{words.advice}</p>
        </div>
      )}
      <PlanFit />
      {strange.length > 0 && (
        <div className="dim" role="status">
          {count(strange.length, 'entry', 'entries')} of the loaded plan could not be taken in:
          {strange.slice(0, 5).map((one) => (
            <div key={JSON.stringify(one.params)}>
              <Said parts={troubleWords(one).sentence} />
            </div>
          ))}
        </div>
      )}
    </section>
  );
}

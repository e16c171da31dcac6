import { Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { loadPanes, makePanes } from '../panes/parts.ts';
import { choose } from '../platform/files.ts';
import { keepSettings, readSettings, type Settings } from '../platform/settings.ts';
import { undo } from '../state/decide.ts';
import { open, type Source, warmUp } from '../state/open.ts';
import { atRisk, openedOf, useDesk } from '../state/session.ts';
import { Announcer } from '../ui/announcer.tsx';
import { Busy } from './busy.tsx';
import { CheckDialog } from './check-dialog.tsx';
import { Empty } from './empty.tsx';
import { ExamplesDialog } from './examples-dialog.tsx';
import { Fallible } from './fallible.tsx';
import './frame.css';
import './print.css';
import { handed, sourceOfFile } from './handing.ts';
import { KeysDialog } from './keys-dialog.tsx';
import { news } from './news.ts';
import { PasteDialog } from './paste-dialog.tsx';
import { Broken, Refused } from './refused.tsx';
import { ManyDialog, ReplaceDialog } from './replace-dialog.tsx';
import { showTheme } from './theme.ts';
import { TitleBlock } from './title-block.tsx';
import { Top } from './top.tsx';
import { useDrop } from './use-drop.ts';
import { useKeys } from './use-keys.ts';
import { usePaste } from './use-paste.ts';

export type DialogName =
  | null
  | { readonly name: 'paste' | 'examples' | 'keys' | 'check' }
  | { readonly name: 'replace'; readonly source: Source }
  | { readonly name: 'many'; readonly sources: readonly Source[] };

const accepted = '.xml,.conf,.cfg,.config,.txt,text/xml,application/xml';

export function App() {
  const session = useDesk((state) => state.session);
  const sheet = useDesk((state) => state.sheet);
  const said = useDesk(news);
  const [settings, setSettings] = useState<Settings>(readSettings);
  const [dialog, setDialog] = useState<DialogName>(null);
  const [attempt, setAttempt] = useState(0);
  const panes = useMemo(makePanes, [attempt]);
  const main = useRef<HTMLElement>(null);

  const take = (source: Source) => {
    if (openedOf(useDesk.getState().session)) setDialog({ name: 'replace', source });
    else {
      setDialog(null);
      open(source);
    }
  };
  const takeData = (data: DataTransfer | null): boolean => {
    const what = handed(data);
    if (what.kind === 'source') take(what.source);
    if (what.kind === 'many') setDialog({ name: 'many', sources: what.sources });
    return what.kind !== 'nothing';
  };
  const chooseFile = async () => {
    const file = await choose(accepted);
    if (file) take(sourceOfFile(file));
  };
  const change = (next: Partial<Settings>) => {
    const all = { ...settings, ...next };
    keepSettings(all);
    setSettings(all);
  };

  const over = useDrop(takeData);
  usePaste(takeData, take, dialog !== null);
  useKeys(settings.singleKeys, () => setDialog({ name: 'keys' }), dialog !== null);
  useEffect(() => showTheme(settings.theme), [settings.theme]);
  useEffect(() => {
    const begin = () => {
      warmUp();
      loadPanes().catch(() => {
        // Tried again when a sheet is shown.
      });
    };
    // After the page itself: what it needs to take a file comes first.
    const wait = setTimeout(begin, 1500);
    return () => clearTimeout(wait);
  }, []);
  useEffect(() => {
    const warn = (event: BeforeUnloadEvent) => {
      if (atRisk(useDesk.getState())) event.preventDefault();
    };
    window.addEventListener('beforeunload', warn);
    return () => window.removeEventListener('beforeunload', warn);
  }, []);
  const { phase } = session;
  useEffect(() => {
    // What had focus went with the page before; a reader goes on at the sheet.
    if (phase !== 'empty' && document.activeElement === document.body) main.current?.focus();
  }, [phase]);

  const opened = openedOf(session);
  const Pane = panes[sheet];
  return (
    <div className="screen">
      <a className="btn skip" href="#sheet">
        Skip to the sheet
      </a>
      <Top settings={settings} onSettings={change} onDialog={setDialog} onOpen={chooseFile} />
      <main className="sheet" id="sheet" ref={main} tabIndex={-1}>
        {session.phase === 'empty' && <Empty onOpen={chooseFile} onDialog={setDialog} />}
        {session.phase === 'busy' && <Busy session={session} />}
        {session.phase === 'refused' && <Refused session={session} onOpen={chooseFile} />}
        {session.phase === 'broken' && <Broken session={session} onOpen={chooseFile} />}
        {session.phase === 'open' && session.fault !== null && (
          <div className="fault" role="alert">
            <b>What follows from your last decision could not be worked out.</b> That is our fault; what you see is from
            before. <span className="mono dim">{session.fault}</span>
            <button type="button" className="btn small plan" onClick={undo}>
              Undo it
            </button>
          </div>
        )}
        {session.phase === 'open' && (
          <Fallible key={`${attempt} ${sheet} ${session.id}`} onAgain={() => setAttempt(attempt + 1)}>
            <Suspense fallback={<p className="quiet-note dim">Loading this sheet.</p>}>
              <Pane />
            </Suspense>
          </Fallible>
        )}
      </main>
      <TitleBlock onDialog={setDialog} />
      <Announcer text={said} />
      {over && (
        <div className="overlay">
          <div>
            <b>Let go to open it here.</b>
            {opened ? `You are asked before it takes the place of ${opened.file.name}.` : 'It stays on this computer.'}
          </div>
        </div>
      )}
      {dialog?.name === 'paste' && <PasteDialog onClose={() => setDialog(null)} onTake={take} />}
      {dialog?.name === 'examples' && <ExamplesDialog onClose={() => setDialog(null)} onTake={take} />}
      {dialog?.name === 'keys' && (
        <KeysDialog settings={settings} onSettings={change} onClose={() => setDialog(null)} />
      )}
      {dialog?.name === 'check' && <CheckDialog onClose={() => setDialog(null)} />}
      {dialog?.name === 'many' && <ManyDialog sources={dialog.sources} onClose={() => setDialog(null)} onTake={take} />}
      {dialog?.name === 'replace' && <ReplaceDialog source={dialog.source} onClose={() => setDialog(null)} />}
    </div>
  );
}

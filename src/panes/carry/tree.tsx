// biome-ignore-all lint/a11y/useSemanticElements: a tree of which only a window is drawn cannot be a table
// biome-ignore-all lint/a11y/useFocusableInteractive: rows take the focus, one of them at a time
import { type KeyboardEvent, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { CarryFilter, CarryTreeRow, CarryWindow, Plan, ResultKind } from '../../core/index.ts';
import { carryWindow } from '../../state/carry.ts';
import { Tick } from '../../ui/controls.tsx';
import { Mark, type MarkName } from '../../ui/marks.tsx';
import { fateWords } from '../../words/carry.ts';
import { number } from '../../words/numbers.ts';
import './tree.css';
import { useAsked } from '../../ui/use-asked.ts';

/** Height of a row in units of CSS; rows drawn before and behind those in view. */
const ROW = 28;
const AHEAD = 20;
/** Browsers cannot scroll through more. */
const TALLEST = 15_000_000;

export interface TreeProps {
  readonly id: number;
  readonly plan: Plan;
  readonly result: ResultKind;
  readonly words: string;
  readonly filter: CarryFilter;
  readonly chosen: string | null;
  readonly onChoose: (id: string) => void;
  /** Settles when the plan says it. */
  readonly onTick: (row: CarryTreeRow, on: boolean) => Promise<void>;
}

const stateOf = ({ fate }: CarryTreeRow) => (fate === 'left-out' ? 'off' : fate === 'mixed' ? 'some' : 'on');

/** Sections, collections and records as a tree with ticks. The worker lays it out; only the rows in view are here. */
export function Tree({ id, plan, result, words, filter, chosen, onChoose, onTick }: TreeProps) {
  const box = useRef<HTMLDivElement>(null);
  const [open, setOpen] = useState<readonly string[]>([]);
  const [view, setView] = useState({ from: 0, limit: 60 });
  const [at, setAt] = useState(0);
  const wantsFocus = useRef(false);
  const tree = useAsked<CarryWindow & { readonly of: Plan }>(
    async () => ({ ...(await carryWindow(plan, { open, words, filter, ...view })), of: plan }),
    [id, plan, open, words, filter, view],
  );
  /** Ticks as they were pressed, until the plan's answer comes. */
  const [pressed, setPressed] = useState<ReadonlyMap<string, boolean>>(new Map());
  const [said, setSaid] = useState<ReadonlySet<string>>(new Set());
  useEffect(() => {
    if (tree?.of !== plan || said.size === 0) return;
    setPressed((before) => new Map([...before].filter(([row]) => !said.has(row))));
    setSaid(new Set());
  }, [tree, plan, said]);
  const look = useCallback(() => {
    const { scrollTop, clientHeight } = box.current!;
    const from = Math.max(0, Math.floor(scrollTop / ROW) - AHEAD);
    const limit = Math.ceil(clientHeight / ROW) + 2 * AHEAD;
    setView((before) => {
      const near =
        Math.abs(before.from - from) < AHEAD / 2 && before.limit === limit && (from > 0 || before.from === 0);
      return near ? before : { from, limit };
    });
  }, []);
  useEffect(() => {
    const watch = new ResizeObserver(look);
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, [look]);
  useEffect(() => {
    box.current!.scrollTop = 0;
    setAt(0);
    look();
  }, [words, filter, look]);
  const total = tree?.total ?? 0;
  const current = Math.min(at, Math.max(0, total - 1));
  const rowAt = (index: number) => tree?.rows[index - tree.from];
  useLayoutEffect(() => {
    // Keys may be faster than rows: when these come, the row that had the focus may stand elsewhere.
    const focused = document.activeElement as HTMLElement | null;
    const strayed =
      box.current!.contains(focused) && focused!.dataset.at !== undefined && focused!.dataset.at !== `${current}`;
    if (!(wantsFocus.current || strayed) || !tree) return;
    const row = box.current!.querySelector<HTMLElement>(`[data-at="${current}"]`);
    if (!row) return;
    wantsFocus.current = false;
    row.focus({ preventScroll: true });
  }, [tree, current]);
  const goTo = (index: number) => {
    const to = Math.max(0, Math.min(total - 1, index));
    setAt(to);
    wantsFocus.current = true;
    const { scrollTop, clientHeight } = box.current!;
    if (to * ROW < scrollTop) box.current!.scrollTop = to * ROW;
    else if ((to + 1) * ROW > scrollTop + clientHeight) box.current!.scrollTop = (to + 1) * ROW - clientHeight;
    box.current!.querySelector<HTMLElement>(`[data-at="${to}"]`)?.focus({ preventScroll: true });
  };
  const toggle = (row: CarryTreeRow) =>
    setOpen(open.includes(row.id) ? open.filter((one) => one !== row.id) : [...open, row.id]);
  const press = (row: CarryTreeRow, on: boolean) => {
    setPressed(new Map(pressed).set(row.id, on));
    onTick(row, on).finally(() => setSaid((before) => new Set(before).add(row.id)));
  };
  const flat = words.trim() !== '';
  const onKey = (event: KeyboardEvent) => {
    const row = rowAt(current);
    if (!row || event.altKey || event.ctrlKey || event.metaKey) return;
    const isOpen = open.includes(row.id);
    const page = Math.max(1, Math.floor(box.current!.clientHeight / ROW) - 1);
    const moves: Record<string, () => void> = {
      ArrowDown: () => goTo(current + 1),
      ArrowUp: () => goTo(current - 1),
      PageDown: () => goTo(current + page),
      PageUp: () => goTo(current - page),
      Home: () => goTo(0),
      End: () => goTo(total - 1),
      ArrowRight: () => {
        if (flat || row.children === 0) return;
        if (isOpen) goTo(current + 1);
        else toggle(row);
      },
      ArrowLeft: () => {
        if (!flat && isOpen && row.children > 0) toggle(row);
        else if (row.above >= 0) goTo(row.above);
      },
      ' ': () => press(row, (pressed.get(row.id) ?? stateOf(row) === 'on') === false),
      Enter: () => onChoose(row.id),
    };
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    event.stopPropagation();
    move();
  };
  return (
    <div
      className="treegrid"
      role="treegrid"
      aria-label="Sections and records; what is ticked goes along"
      aria-rowcount={total + 1}
      aria-colcount={4}
      aria-busy={tree?.of !== plan}
    >
      <div role="rowgroup" className="heads">
        <div role="row" aria-rowindex={1}>
          <span role="columnheader" className="m">
            <span className="spoken">Mark</span>
          </span>
          <span role="columnheader">{flat ? 'Record' : 'Section, collection, record'}</span>
          <span role="columnheader" className="num">
            Records
          </span>
          <span role="columnheader">In the result</span>
        </div>
      </div>
      <div role="rowgroup" className="rows scroll" ref={box} onScroll={look} onKeyDown={onKey}>
        <div role="presentation" className="tall" style={{ height: Math.min(TALLEST, total * ROW) }}>
          {tree?.rows.map((row, place) => (
            <Row
              key={row.id}
              row={row}
              index={tree.from + place}
              result={result}
              pressed={pressed.get(row.id)}
              open={open.includes(row.id)}
              flat={flat}
              chosen={chosen === row.id}
              current={tree.from + place === current}
              onOpen={() => toggle(row)}
              onTick={(on) => press(row, on)}
              onChoose={() => {
                setAt(tree.from + place);
                onChoose(row.id);
              }}
            />
          ))}
        </div>
        {total * ROW > TALLEST && (
          <p className="none dim" role="status">
            A browser scrolls no further than {number(Math.floor(TALLEST / ROW))} rows of these {number(total)}. Search
            for the others, or close what is open above them.
          </p>
        )}
        {tree && total === 0 && (
          <p className="none" role="status">
            {flat ? (
              <>
                <b>Nothing says “{words.trim()}”.</b>{' '}
                <span className="dim">Names, keys, values and remarks were searched; secrets were not.</span>
              </>
            ) : (
              <span className="dim">No record is like that.</span>
            )}
          </p>
        )}
      </div>
    </div>
  );
}

function markOf(row: CarryTreeRow, result: ResultKind): readonly [MarkName, string, string] | null {
  const goes = row.fate !== 'left-out' || row.along > 0;
  if (goes && row.wanting > 0)
    return ['break', 'wrong', result === 'graft' ? 'names what neither box has' : 'needs what is left out'];
  if (goes && row.dangling > 0) return ['break', 'wrong', 'a name leads nowhere'];
  if (row.leftOut > 0 && result === 'whole') return ['out', 'mine', 'left out'];
  if (row.changed > 0) return ['changed', 'mine', 'changed'];
  return row.boxBound > 0 && goes ? ['check', '', 'bound to the old box'] : null;
}

function Row({
  row,
  index,
  result,
  pressed,
  open,
  flat,
  chosen,
  current,
  onOpen,
  onTick,
  onChoose,
}: {
  row: CarryTreeRow;
  index: number;
  result: ResultKind;
  pressed: boolean | undefined;
  open: boolean;
  flat: boolean;
  chosen: boolean;
  current: boolean;
  onOpen: () => void;
  onTick: (on: boolean) => void;
  onChoose: () => void;
}) {
  const state = pressed === undefined ? stateOf(row) : pressed ? 'on' : 'off';
  const mark = markOf(row, result);
  const [fate, tone] = fateWords(row, result);
  const kin = !flat && row.children > 0;
  return (
    <div
      role="row"
      data-at={index}
      className={`${state === 'off' && row.along === 0 ? 'out' : ''} ${chosen ? 'sel' : ''} ${result}`}
      style={{ top: index * ROW }}
      tabIndex={current ? 0 : -1}
      aria-rowindex={index + 2}
      aria-level={row.level}
      aria-posinset={row.at}
      aria-setsize={row.of}
      aria-expanded={kin ? open : undefined}
      aria-selected={chosen}
    >
      <span role="gridcell" className={`m ${mark?.[1] ?? ''}`}>
        {mark && (
          <>
            <Mark name={mark[0]} />
            <span className="spoken">{mark[2]}</span>
          </>
        )}
      </span>
      <span role="gridcell" className="nmr" style={{ paddingLeft: (Math.min(row.level, 8) - 1) * 20 + 4 }}>
        {kin ? (
          <button
            type="button"
            className="twist"
            tabIndex={-1}
            aria-label={`Records of ${row.name}`}
            aria-expanded={open}
            onClick={onOpen}
          >
            <Mark name={open ? 'down' : 'right'} />
          </button>
        ) : (
          <span className="twist" />
        )}
        <Tick state={state} label={`Carry ${row.name}`} tabIndex={-1} onChange={onTick} />
        <button type="button" className="who link" tabIndex={-1} onClick={onChoose}>
          <span
            className={`mono ${row.level === 1 ? 'uppermost' : ''} ${state === 'off' && result === 'whole' ? 'struck' : ''}`}
          >
            {row.name}
          </span>
        </button>
        <span className="dim also">
          {row.key && <span className="mono">{row.key} </span>}
          {row.kind === 'record' && row.name !== row.tag && row.tag}
          {flat && row.section && row.section !== row.name && `, in ${row.section}`}
          {row.secrets > 0 && (row.kind === 'record' || row.kind === 'setting') && (
            <span className="redact" role="img" aria-label="holds a secret" />
          )}
        </span>
      </span>
      <span role="gridcell" className="num">
        {row.entries > 1 || row.level === 1 ? number(row.entries) : ''}
      </span>
      <span role="gridcell" className={`fate ${tone}`}>
        {fate}
      </span>
    </div>
  );
}

import type { FieldData } from '../reading/fields.ts';
import type { Finding } from '../views.ts';
import type { Site } from '../xml/site.ts';
import type { CheckInput } from './input.ts';
import { once, siteKey, siteOf, tablesOf } from './tables.ts';

export type Caution = 'phone' | 'lift' | 'alarm' | 'door' | 'medical' | 'payment' | 'control';

/**
 * Words for what people depend on, in several languages; from memory, and weak evidence: a name that speaks of a lift may
 * be a boat's. They are matched as the beginning of a word, so that endings do not matter.
 */
const words: Record<Caution, string> = {
  phone:
    'phone telephone telefon telefono teléfono téléphone voip sip emergency notruf emergencia urgence 112 911 999 intercom sprechanlage τηλέφων телефон экстренн 电话 電話 緊急',
  lift: 'lift elevator aufzug fahrstuhl ascensor ascenseur hiss heis лифт 电梯 エレベーター ανελκυστήρ',
  alarm:
    'alarm alarma alarme siren smoke rauchmelder brandmelde burglar intruder einbruch сигнализац συναγερμ 警报 警報',
  door: 'door türöffner schließanlage turnstile barrier schranke cerradura serrure badge reader замок дверь 门禁',
  medical:
    'medical medizin patient nurse hospital defibrillator infusion clinic klinik médico médical медицин больниц 医疗 医療',
  payment:
    'payment payterm card till pos eftpos kasse zahlung terminal-cb caja datáfono caisse paiement платеж касса 支付 決済',
  control: 'plc scada crane kran pump pumpe boiler ventil hvac lock-gate sluice schleuse',
};

/** Words so short or so common that they have to stand whole. */
const whole = new Set([
  '112',
  '911',
  '999',
  'sip',
  'pos',
  'till',
  'card',
  'gate',
  'lift',
  'hiss',
  'heis',
  'plc',
  'reader',
  'badge',
  'pump',
  'kran',
  'caja',
]);

const escaped = (word: string) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
const kinds = Object.keys(words) as Caution[];
const pattern = new RegExp(
  `(?<![\\p{L}\\p{N}])(?:${kinds
    .map((kind) => {
      const list = words[kind].split(' ');
      return `(${list.map((word) => escaped(word) + (whole.has(word) ? 's?(?![\\p{L}\\p{N}])' : '')).join('|')})`;
    })
    .join('|')})`,
  'iu',
);

/** What a text may be about; null for nothing of the list. */
export function cautionIn(text: string): Caution | null {
  const match = pattern.exec(text);
  if (!match) return null;
  return kinds.find((_, at) => match[at + 1] !== undefined) ?? null;
}

interface Mention {
  readonly kind: Caution;
  readonly site: Site;
  readonly text: string;
}

const LONGEST = 200;

const cautionsOfField = new WeakMap<FieldData, readonly (Caution | null)[] | null>();

/** What each distinct text of a field may be about, once for a field; null where none is about anything. */
function cautionsIn(field: FieldData): readonly (Caution | null)[] | null {
  let found = cautionsOfField.get(field);
  if (found === undefined) {
    const own = field.distinct.map((text) => (text.length < 3 || text.length > LONGEST ? null : cautionIn(text)));
    found = own.some((caution) => caution !== null) ? own : null;
    cautionsOfField.set(field, found);
  }
  return found;
}

/** Remarks, labels and names that speak of such things; never secrets, and never values of other kinds. */
const mentionsOf = once((reading): readonly Mention[] => {
  const secret = new Set(reading.secrets.map(({ site }) => siteKey(site.node, site.attr)));
  const kindsOfRecord = new Set<string>();
  for (const { steps } of reading.values.fields)
    for (const step of steps) {
      const at = step.indexOf('{');
      if (at !== -1) kindsOfRecord.add(step.slice(at + 1, -1));
    }
  const mentions: Mention[] = [];
  for (const { columns } of tablesOf(reading).values())
    for (const { field, kind } of columns) {
      // What tells kinds of record apart is a word of the dialect.
      if (kind !== 'other' || field.distinct.every((text) => kindsOfRecord.has(text))) continue;
      const found = cautionsIn(field);
      if (!found) continue;
      for (let place = 0; place < field.which.length; place++) {
        const own = found[field.which[place]!];
        if (!own) continue;
        const site = siteOf(field, place);
        const text = field.values[place]!;
        if (!secret.has(siteKey(site.node, site.attr))) mentions.push({ kind: own, site, text });
      }
    }
  return mentions.sort((a, b) => a.site.node - b.site.node);
});

/** One question for each kind, at the first place that stays, and the general cautions once something is planned. */
export function checkCautions({ reading, gone, place, planned }: CheckInput): Finding[] {
  const findings: Finding[] = [];
  const first = new Map<Caution, Mention>();
  const counts = new Map<Caution, number>();
  for (const mention of mentionsOf(reading)) {
    if (gone(mention.site.node)) continue;
    if (!first.has(mention.kind)) first.set(mention.kind, mention);
    counts.set(mention.kind, (counts.get(mention.kind) ?? 0) + 1);
  }
  for (const [kind, { site, text }] of first)
    findings.push({
      code: 'caution-mentioned',
      severity: 'note',
      place: place(site),
      params: { kind, text: text.slice(0, 60), count: counts.get(kind)! },
      byPlan: false,
    });
  if (planned) findings.push({ code: 'caution-swap', severity: 'note', place: null, params: {}, byPlan: true });
  return findings;
}

import { mapLong } from '../../reading/fields/long-lists.ts';

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

/** Words so short or so common that they have to stand whole, or with an s. */
const whole = new Set('112 911 999 sip pos till card gate lift hiss heis plc reader badge pump kran caja'.split(' '));

const hasNumberToCall = new RegExp(
  Object.values(words)
    .flatMap((list) => list.split(' '))
    .filter((word) => /\d/.test(word))
    .join('|'),
);

const joint = /[.:/_@#-]/;

/** True for a number that is a part of a name or of an address: `igb2.112`. */
function isJoined(text: string, from: number, to: number): boolean {
  return (
    (joint.test(text[from - 1] ?? '') && isWordAt(text, from - 2)) ||
    (joint.test(text[to] ?? '') && isWordAt(text, to + 1))
  );
}

/** Words by their first two letters, in the order of the list. */
const starts = new Map<string, { readonly word: string; readonly kind: Caution; readonly whole: boolean }[]>();
for (const kind of Object.keys(words) as Caution[])
  for (const word of words[kind].split(' ')) {
    const start = word.slice(0, 2);
    starts.set(start, [...(starts.get(start) ?? []), { word, kind, whole: whole.has(word) }]);
  }

/**
 * Finds texts in which a word begins as one of the list does, or which are not ASCII alone: most have neither, and an
 * expression is quick from its first use on, where a loop would have to be learnt.
 */
const mayTell = new RegExp(
  `[^\\x00-\\x7f]|(?:^|[^a-z0-9])(?:${[
    ...new Set(
      Object.values(words)
        .flatMap((list) => list.split(' '))
        .map((word) => word.slice(0, 3))
        .filter((start) => /^[a-z0-9]+$/.test(start)),
    ),
  ].join('|')})`,
  'i',
);

const wordUnit = /[\p{L}\p{N}]/u;

const ascii = Uint8Array.from({ length: 128 }, (_, unit) => (/[A-Za-z0-9]/.test(String.fromCharCode(unit)) ? 1 : 0));

function isWordAt(text: string, at: number): boolean {
  const unit = text.charCodeAt(at);
  if (unit < 128) return ascii[unit] === 1;
  // NaN behind the end.
  if (!(unit >= 128)) return false;
  return wordUnit.test(String.fromCodePoint(text.codePointAt(at)!));
}

/** What a text may be about, by the first word that tells; null for nothing of the list. */
export function cautionIn(text: string): Caution | null {
  if (!mayTell.test(text)) return null;
  const lower = text.toLowerCase();
  let inWord = false;
  for (let at = 0; at < lower.length; at++) {
    const isWord = isWordAt(lower, at);
    if (isWord && !inWord)
      for (const { word, kind, whole } of starts.get(lower.slice(at, at + 2)) ?? []) {
        if (!lower.startsWith(word, at)) continue;
        const end = at + word.length;
        // Of numbers to call people speak in sentences.
        if (/\d/.test(word) && (isJoined(lower, at, end) || !/\p{L}/u.test(lower))) continue;
        if (!whole || !isWordAt(lower, lower[end] === 's' ? end + 1 : end)) return kind;
      }
    inWord = isWord;
  }
  return null;
}

/** The same for the texts of one field: those that are alike but for their numbers count something, and call nobody. */
export function cautionsAmong(texts: readonly string[]): (Caution | null)[] {
  // Many texts are alike but for a number, which tells only where it is one to call.
  const known = new Map<string, Caution | null>();
  const once = (text: string): Caution | null => {
    let caution = known.get(text);
    if (caution === undefined) {
      caution = cautionIn(text);
      known.set(text, caution);
    }
    return caution;
  };
  const found = mapLong(texts, (text) => once(hasNumberToCall.test(text) ? text : text.replace(/\d+/g, '0')));
  let alike: Map<string, number> | null = null;
  for (let at = 0; at < texts.length; at++) {
    const text = texts[at]!;
    if (found[at] === null || once(withoutNumbers(text)) !== null) continue;
    if (!alike) {
      alike = new Map();
      for (const one of mapLong(texts, withoutNumbers)) alike.set(one, (alike.get(one) ?? 0) + 1);
    }
    if (alike.get(withoutNumbers(text))! > 1) found[at] = null;
  }
  return found;
}

const withoutNumbers = (text: string) => text.replace(/\d+/g, '#');

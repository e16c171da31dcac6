/** A longer text says more than one setting. */
const LONGEST = 120;
const WORDS = 4;

/** What a setting has rather than a sentence: a number, yes or no, something with a digit in it. */
const isValue = (word: string) => /\d/.test(word) || /^(?:on|off|yes|no|true|false)$/i.test(word);

/** The words of a line, what is set in it and what it is set to apart; none of a longer text. */
export const partsOf = (text: string): readonly string[] => (text.length > LONGEST ? [] : text.split(/[\s=]+/));

/** The words of a line that sets one thing: `tune dev.igb.0.fc 0`, `hw.igb.rxd=2048`; none for a single word or a longer text. */
export function wordsOfCommand(text: string): readonly string[] {
  const words = partsOf(text);
  if (words.length < 2) return [];
  return words.length <= WORDS && isValue(words[words.length - 1]!) ? words : [];
}

/** A sentence whose values from a file are kept apart from our own words, so that a page can set them otherwise. */
export type Said = readonly (string | { readonly value: string })[];

/** Marks what comes from a file. */
export const value = (text: string | number | undefined): { readonly value: string } => ({ value: String(text ?? '') });

/** Template tag: a plain string or number joins our words, a `value` stays apart, a sentence is taken in. */
export function say(
  words: TemplateStringsArray,
  ...parts: (string | number | { readonly value: string } | Said)[]
): Said {
  const said: (string | { readonly value: string })[] = [];
  const add = (part: string | { readonly value: string }) => {
    const last = said.length - 1;
    if (typeof part === 'string' && typeof said[last] === 'string') said[last] += part;
    else if (part !== '') said.push(part);
  };
  words.forEach((word, at) => {
    add(word);
    const part = parts[at];
    if (Array.isArray(part)) for (const piece of part) add(piece);
    else if (part !== undefined) add(typeof part === 'number' ? String(part) : (part as Said[number]));
  });
  return said;
}

/** For a terminal or a spoken name: values in quotes. */
export const plain = (said: Said): string =>
  said.map((part) => (typeof part === 'string' ? part : `“${part.value}”`)).join('');

const breaks = /([\p{Ll}\p{N}])(\p{Lu})|(\p{Lu})(\p{Lu}\p{Ll})|[^\p{L}\p{M}\p{N}]+/gu;

/** The words of a name as written in XML: prefix left out, split at case, dashes, dots and underscores, accents off. */
export function wordsOf(name: string): readonly string[] {
  // Most names are one word as it is.
  if (/^[a-z][a-z0-9]*$/.test(name)) return [name];
  const local = name.slice(name.lastIndexOf(':') + 1);
  return plain(local.replace(breaks, (_, a, b, c, d) => `${a ?? c ?? ''} ${b ?? d ?? ''}`))
    .split(' ')
    .filter((word) => word !== '');
}

/** Lower case without accents, so that `contraseña` and `Contrasena` are one. Words to compare with go through it too. */
export function plain(text: string): string {
  return text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .normalize('NFC')
    .toLowerCase();
}

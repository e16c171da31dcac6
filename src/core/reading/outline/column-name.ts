const word = '[\\p{L}\\p{M}\\p{N}_.:-]+';
/** Four words at most: what has more is said of a value, and calls no column. */
const columnName = new RegExp(`^(?=[\\p{L}_])(?=.{1,60}$)${word}(?: ${word}){0,3}$`, 'u');

/** True for what may call a column: a name as tags are, or a heading of some words (`Next hop`). */
export const isColumnName = (text: string): boolean => columnName.test(text);

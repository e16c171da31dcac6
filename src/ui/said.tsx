/** A sentence with the values of a file set in the face that is theirs. */
export function Said({ parts }: { parts: readonly (string | { readonly value: string })[] }) {
  return parts.map((part, at) => (typeof part === 'string' ? part : <code key={at}>{part.value}</code>));
}

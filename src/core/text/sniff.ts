/** What a file that is no XML looks like, so that the refusal can name it. Sources beside each mark. */
export type Look =
  | 'gzip'
  | 'zip'
  | 'xz'
  | 'bzip2'
  | '7z'
  | 'zstd'
  | 'tar'
  | 'png'
  | 'jpeg'
  | 'gif'
  | 'pdf'
  | 'sqlite'
  | 'encrypted-openssl'
  | 'encrypted-pgp'
  | 'encrypted-age'
  | 'pem'
  | 'json'
  | 'html'
  | 'text'
  | 'binary'
  | 'blank';

const marks: [Look, number[], number?][] = [
  ['gzip', [0x1f, 0x8b]], // RFC 1952, 2.3.1
  ['zip', [0x50, 0x4b, 0x03, 0x04]], // PKWARE APPNOTE 4.3.7, from memory
  ['zip', [0x50, 0x4b, 0x05, 0x06]],
  ['xz', [0xfd, 0x37, 0x7a, 0x58, 0x5a, 0x00]], // The .xz file format 2.1.1.1, from memory
  ['bzip2', [0x42, 0x5a, 0x68]], // from memory
  ['7z', [0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c]], // from memory
  ['zstd', [0x28, 0xb5, 0x2f, 0xfd]], // RFC 8878, 3.1.1
  ['png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]], // RFC 2083, 3.1
  ['jpeg', [0xff, 0xd8, 0xff]], // from memory
  ['gif', [0x47, 0x49, 0x46, 0x38]], // from memory
  ['pdf', [0x25, 0x50, 0x44, 0x46, 0x2d]], // ISO 32000, 7.5.2, from memory
  ['sqlite', [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66]], // from memory
  ['encrypted-openssl', [0x53, 0x61, 0x6c, 0x74, 0x65, 0x64, 0x5f, 0x5f]], // "Salted__", openssl enc(1)
  ['encrypted-openssl', [0x55, 0x32, 0x46, 0x73, 0x64, 0x47, 0x56, 0x6b, 0x58, 0x31]], // the same in base64
  ['tar', [0x75, 0x73, 0x74, 0x61, 0x72], 257], // POSIX.1 pax, ustar
];

/** What the bytes look like where they can be no XML document; null where they may be one. */
export function lookOf(bytes: Uint8Array): Look | null {
  for (const [look, mark, at = 0] of marks) if (mark.every((byte, k) => bytes[at + k] === byte)) return look;
  let start = 0;
  while (
    start < bytes.length &&
    (bytes[start] === 9 || bytes[start] === 10 || bytes[start] === 13 || bytes[start] === 32)
  )
    start++;
  if (start === bytes.length) return 'blank';
  let head = '';
  for (const byte of bytes.subarray(start, start + 200)) head += String.fromCharCode(byte);
  if (/^<!doctype\s+html|^<html[\s>]/i.test(head)) return 'html';
  if (head.startsWith('<')) return null;
  if (head.startsWith('-----BEGIN PGP')) return 'encrypted-pgp'; // RFC 9580, 6.2
  if (head.startsWith('age-encryption.org/')) return 'encrypted-age'; // from memory
  if (head.startsWith('-----BEGIN ')) return 'pem'; // RFC 7468
  if (/^[[{]\s*["[{\]}\d-]/.test(head)) return 'json'; // RFC 8259
  return looksBinary(bytes) ? 'binary' : 'text';
}

/** Many control bytes, or as evenly spread as packed and encrypted data are. */
function looksBinary(bytes: Uint8Array): boolean {
  const sample = bytes.subarray(0, 4096);
  let control = 0;
  for (const byte of sample) if (byte === 0 || (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13)) control++;
  return control > sample.length / 50;
}

/**
 * Shapes of stored password hashes: crypt(5) of libxcrypt and crypt-hash of RFC 7317 (iana-crypt-hash); the argon2,
 * PBKDF2 and LDAP forms from memory. A bare 13-letter DES hash has the shape of any short word: see `maybeDesHash`.
 */
const modular =
  /^\$(?:y|gy|7|2[abxy]?|6|5|1|sha1|md5|apr1|scrypt|argon2(?:id|i|d)?|pbkdf2(?:-sha\d+)?|bcrypt-sha256|3|8|9|sm3|P|H|S)[$,][./A-Za-z0-9=,$+_-]{16,}$/;
const ldap = /^\{(?:S?SHA(?:256|384|512)?|S?MD5|CRYPT|PBKDF2[A-Z0-9-]*|ARGON2)\}[A-Za-z0-9+/.$=,_-]{16,}$/i;

export function isPasswordHash(text: string): boolean {
  const code = text.charCodeAt(0);
  if (code === 36) return text.length >= 20 && text.length < 512 && modular.test(text);
  if (code === 123) return text.length >= 22 && text.length < 512 && ldap.test(text);
  // Extended DES: `_`, 4 letters of count, 4 of salt, 11 of hash.
  return code === 95 && text.length === 20 && /^_[./0-9A-Za-z]{19}$/.test(text);
}

/** 13 letters of the DES alphabet, not of hexadecimal digits alone: to be believed only where a name or a neighbour says so. */
export function maybeDesHash(text: string): boolean {
  return (
    text.length === 13 &&
    /^[./0-9A-Za-z]{13}$/.test(text) &&
    /[A-Z]/.test(text) &&
    /[a-z]/.test(text) &&
    !/^[0-9a-fA-F]+$/.test(text)
  );
}

/** As long as a digest of MD5, SHA-1, SHA-224, SHA-256, SHA-384 or SHA-512 in hexadecimal digits. */
export function isHexDigest(text: string): boolean {
  return [32, 40, 56, 64, 96, 128].includes(text.length) && /^(?:[0-9a-f]+|[0-9A-F]+)$/.test(text);
}

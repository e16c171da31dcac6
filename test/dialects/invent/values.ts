import type { Role } from '../model.ts';
import type { Rng } from '../rng.ts';
import { B64, HASH_LETTERS, PHRASES } from './names.ts';

export function literal(r: Rng, role: Role): string {
  const host = role.net.replace(/0$/, String(r.int(5, 90)));
  return r.pick([host, host, `${role.net}/${role.prefix}`, `192.0.2.${r.int(1, 250)}`]);
}

/** Documentation range of RFC 7042, section 2.1.2, in the spelling of this file. */
export function macWriter(r: Rng): (r: Rng) => string {
  const style = r.fork('mac style').pick(['colon', 'colon', 'colon', 'upper', 'dash', 'dots', 'bare']);
  return (own) => {
    const plain = `00005e0053${own.hex(2)}`;
    const bytes = plain.match(/../g) as string[];
    switch (style) {
      case 'upper':
        return bytes.join(':').toUpperCase();
      case 'dash':
        return bytes.join('-');
      case 'dots':
        return (plain.match(/..../g) as string[]).join('.');
      case 'bare':
        return plain.toUpperCase();
      default:
        return bytes.join(':');
    }
  };
}

export function secretOf(r: Rng): string {
  return r.chance(0.4) ? r.pick(PHRASES) : r.text(r.int(16, 24), B64);
}

/** 32 bytes in base64: 43 letters and a pad. */
export function keyOf(r: Rng): string {
  return `${r.text(42, B64)}${r.pick(['A', 'E', 'I', 'M', 'Q', 'U', 'Y', 'c', 'g', 'k', 'o', 's', 'w', '0', '4', '8'])}=`;
}

/** Shapes of crypt(5). */
export function passwordHash(r: Rng): string {
  switch (r.int(0, 2)) {
    case 0:
      return `$2y$10$${r.text(53, HASH_LETTERS)}`;
    case 1:
      return `$6$${r.text(12, HASH_LETTERS)}$${r.text(86, HASH_LETTERS)}`;
    default:
      return `$5$rounds=5000$${r.text(10, HASH_LETTERS)}$${r.text(43, HASH_LETTERS)}`;
  }
}

import { expect, test } from 'vitest';
import { wrapsLiteral } from '../../src/core/reading/names/dangling.ts';

test('a protocol and its port stand for themselves, a word for a kind and a number do not', () => {
  for (const text of ['tcp/25', 'udp/51820', 'TCP:8000-8010', '!10.0.0.1', 'except(80)'])
    expect(wrapsLiteral(text), text).toBe(true);
  for (const text of ['port/4', 'zone/25', 'tcp', 'tcp-25', 'tcp/web']) expect(wrapsLiteral(text), text).toBe(false);
});

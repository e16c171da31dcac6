import osPorts from '../../values/os-ports.json' with { type: 'json' };

const families = new RegExp(
  [`^(?:${osPorts.drivers.join('|')})[0-9]+$`, ...osPorts.formats.map((format) => format), ...osPorts.standard].join(
    '|',
  ),
);
const aggregates = new RegExp(`^(?:${osPorts.aggregates.join('|')})[0-9]+$`);

/** A name as an operating system gives it to a network device. */
export function osFamily(token: string): boolean {
  if (token.length > 24 || !families.test(token)) return false;
  // Before a tag any name may stand; a few letters, a number and a further one are rather a version.
  const base = /^(\p{L}{0,3}\d+)\.\d{1,4}$/u.exec(token)?.[1];
  return base === undefined || families.test(base) || osAggregate(base);
}

export function osAggregate(token: string): boolean {
  return token.length <= 16 && aggregates.test(token);
}

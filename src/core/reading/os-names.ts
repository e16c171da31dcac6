import osPorts from '../values/os-ports.json' with { type: 'json' };

const families = new RegExp(
  [`^(?:${osPorts.drivers.join('|')})[0-9]+$`, ...osPorts.formats.map((format) => format), ...osPorts.standard].join(
    '|',
  ),
);
const aggregates = new RegExp(`^(?:${osPorts.aggregates.join('|')})[0-9]+$`);

/** A name as an operating system gives it to a network device. */
export function osFamily(token: string): boolean {
  if (token.length > 24 || !families.test(token)) return false;
  // Before a tag any name may stand, and before a dot and a number many a thing that is no device: a version.
  const base = /^([^./]+)\.\d{1,4}$/.exec(token)?.[1];
  return base === undefined || families.test(base) || osAggregate(base);
}

export function osAggregate(token: string): boolean {
  return token.length <= 16 && aggregates.test(token);
}

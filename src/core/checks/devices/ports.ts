import { portClashes } from '../../compile/rename-ports.ts';
import { MAX_DEVICE_NAME } from '../../values/device-name.ts';
import type { Finding } from '../../views.ts';
import type { CheckInput } from '../input.ts';
import { setTo, takeBack } from '../repairs/repairs.ts';
import { isTooLong, ShortNames } from '../repairs/short-names.ts';

/** Two ports under one name, names that are too long, and remarks that still speak of a port's old name. */
export function checkPorts(input: CheckInput): Finding[] {
  const { reading, renames, gone, place } = input;
  const findings: Finding[] = [];
  const ports = new Set(reading.mentions.map(({ port }) => port));
  for (const { to, from } of portClashes(ports, renames)) {
    findings.push({
      code: 'port-doubled',
      severity: 'error',
      place: null,
      params: { port: to, from: from.join(', ') },
      byPlan: true,
      repairs: from.flatMap((port) =>
        from.length === 2 && renames.has(port) ? takeBack([`rename-port ${port}`], { name: port }) : [],
      ),
    });
  }
  const long = new Set<string>();
  let short: ShortNames | null = null;
  for (const mention of reading.mentions) {
    const { value, port, portAt, site } = mention;
    const to = renames.get(port);
    if (to === undefined || to === port || gone(site.node)) continue;
    const name = value.slice(0, portAt) + to + value.slice(portAt + port.length);
    if (long.has(name) || !isTooLong(input, name)) continue;
    long.add(name);
    short ??= new ShortNames(input);
    const owner = `rename-port ${port}`;
    findings.push({
      code: 'port-name-long',
      severity: 'warning',
      place: place(site),
      params: { port: name, limit: MAX_DEVICE_NAME },
      byPlan: true,
      cause: { key: owner, decision: owner, lost: null },
      repairs: [...short.for(value, mention), ...takeBack([owner], { name: port })],
    });
  }
  for (const { site, port } of reading.remarks) {
    const to = renames.get(port);
    if (to === undefined || to === port || gone(site.node)) continue;
    findings.push({
      code: 'port-in-remark',
      severity: 'note',
      place: place(site),
      params: { port, to },
      byPlan: true,
      repairs: setTo(input, 'follow-port', { to }, [{ site, was: port, value: to }]),
    });
  }
  return findings;
}

import { parseDeviceName } from '../../values/device-name.ts';
import { hardwareAddress } from '../hardware-address.ts';
import { faster, speedIn } from '../speed.ts';
import { isLegalName, type PasteLine } from './lines.ts';
import { type Found, type OtherName, type Seen, seen } from './seen.ts';

/**
 * What a kernel says at boot, from `dmesg`, the journal or the system log: Linux (drivers' messages and udev's renames)
 * and FreeBSD, NetBSD, OpenBSD (autoconf lines); all from memory. A log speaks of much else, so no line is `unread`; a
 * device counts where a line gives its hardware address, its link or its new name, or where a network driver speaks.
 */
export function readBootLog(lines: readonly PasteLine[]): Found {
  const log = new BootLog();
  for (const line of lines)
    if (line.text.length <= LONGEST)
      log.take(line.text.replace(stamp, '').replace(syslog, '').replace(stamp, ''), line.number);
  return {
    devices: [...log.devices.values()].sort((a, b) => a.line - b.line),
    otherNames: log.otherNames(),
    unread: [],
  };
}

/** A kernel's line is shorter; one of another program need not be. */
const LONGEST = 1500;

const stamp = /^(?:<\d+>)?\s*(?:\[\s*\d[\d. ]*\]\s*|\[\w{3} \w{3} [^\]]{4,24}\]\s*)?(?:kernel: )?/;
const syslog =
  /^(?:\w{3}\s+\d{1,2} [\d:]{8}(?:\.\d+)?|\d{4}-\d\d-\d\d[T ][\d:.,]+(?:Z|[+-][\d:]{4,6})?)\s+(?:\S+\s+)?(?:\/bsd|kernel)(?:\[\d+\])?: /;

const macIn = (text: string) =>
  hardwareAddress(/(?<![0-9a-fA-F:])[0-9a-fA-F]{2}(?:[:-][0-9a-fA-F]{2}){5}(?![0-9a-fA-F:])/.exec(text)?.[0]);

class BootLog {
  readonly devices = new Map<string, Seen>();
  private readonly before = new Map<Seen, string[]>();
  /** PHY and MII bus by name, up to the device they belong to (FreeBSD). */
  private readonly on = new Map<string, string>();

  otherNames(): OtherName[] {
    return [...this.before].flatMap(([{ name }, names]) =>
      names.map((other): OtherName => ({ name: other, port: name, how: 'before' })),
    );
  }

  take(text: string, line: number): void {
    const linux = linuxDriver.exec(text) ?? linuxOld.exec(text);
    if (linux && isLegalName(linux[1]!)) this.linux(linux[1]!, linux[2]!, line);
    else {
      const [, name, message] = plain.exec(text.replace(addrconf, '')) ?? [];
      if (name && isLegalName(name)) this.plain(name, message!, line);
      else this.attached(text, line);
    }
  }

  /** `e1000e 0000:00:1f.6 eth0: …` */
  private linux(name: string, message: string, line: number): void {
    const renamed = renamedFrom.exec(message)?.[1];
    if (renamed) {
      this.rename(renamed, name, line);
      return;
    }
    const mac = macIn(message);
    const up = linkIn(message);
    if (!this.devices.has(name) && !mac && up === null && parseDeviceName(name)?.kind !== 'card') return;
    const device = this.device(name, line);
    device.mac ??= mac;
    device.up = up ?? device.up;
    if (up || !/\bPCI/i.test(message)) device.speedMbit = faster(device.speedMbit, speedIn(message));
  }

  /** `igb0: …`, `eth0: …`, `bond0: (slave eth0): …` */
  private plain(name: string, message: string, line: number): void {
    const renamed = renamedFrom.exec(message)?.[1];
    if (renamed) {
      this.rename(renamed, name, line);
      return;
    }
    const changing = /^changing name to '([^']+)'/.exec(message)?.[1];
    if (changing) {
      this.rename(name, changing, line);
      return;
    }
    const member = /^\((?:slave|port) ([^)]+)\):? /.exec(message);
    if (member) {
      this.device(name, line).made ??= 'bond';
      if (this.devices.has(member[1]!)) this.plain(member[1]!, message.slice(member[0].length), line);
      return;
    }
    const bus = /^<MII bus> on (\S+)/.exec(message)?.[1] ?? /^<.*> PHY \d+ on (\S+)/.exec(message)?.[1];
    if (bus) {
      this.on.set(name, bus);
      return;
    }
    const owner = this.devices.get(this.on.get(this.on.get(name) ?? '') ?? '');
    if (owner) {
      owner.speedMbit = faster(owner.speedMbit, speedIn(message));
      return;
    }
    const address = /\b(?:ethernet|mac|hw|hardware|node)? ?address:? /i.test(message) ? macIn(message) : null;
    const up = linkIn(message);
    const model = /^<(.*?)>(?: |$)/.exec(message)?.[1];
    const card = parseDeviceName(name)?.kind === 'card';
    if (!this.devices.has(name)) {
      // A disk has a link, too: only the words for network devices count from a name that no network driver has.
      const proves = address ?? (/link state changed to|link becomes ready/i.test(message) ? up : null);
      if (proves === null && !(card && (model !== undefined || up !== null))) return;
    }
    const device = this.device(name, line);
    device.mac ??= address;
    device.up = up ?? device.up;
    if (up) device.speedMbit = faster(device.speedMbit, speedIn(message));
    else if (model) device.speedMbit = faster(device.speedMbit, speedIn(model));
  }

  /** `em0 at pci1 dev 0 function 0 "Intel I210" rev 0x03: msi, address 00:00:5e:00:53:10` (OpenBSD) */
  private attached(text: string, line: number): void {
    const [, name, rest] = /^([a-z]+\d+) at \S+ (.*)$/.exec(text) ?? [];
    const mac = rest && /\baddress /i.test(rest) ? macIn(rest) : null;
    if (!name || !mac) return;
    const device = this.device(name, line);
    device.mac ??= mac;
    const model = /"([^"]*)"/.exec(rest!)?.[1];
    if (model) device.speedMbit = faster(device.speedMbit, speedIn(model));
  }

  private device(name: string, line: number): Seen {
    let device = this.devices.get(name);
    if (!device) {
      device = seen(name, line);
      this.devices.set(name, device);
    }
    return device;
  }

  /** The device keeps what is known of it. A later boot in the same log tells the same again and takes its place. */
  private rename(from: string, to: string, line: number): void {
    if (!isLegalName(from) || !isLegalName(to) || from === to) return;
    const old = this.devices.get(from);
    const earlier = this.devices.get(to);
    const known = old ?? seen(from, line);
    const device = { ...known, name: to, line: Math.min(known.line, earlier?.line ?? line) };
    device.mac ??= earlier?.mac ?? null;
    device.speedMbit = faster(device.speedMbit, earlier?.speedMbit ?? null);
    const names = new Set([
      ...(earlier ? (this.before.get(earlier) ?? []) : []),
      ...(old ? (this.before.get(old) ?? []) : []),
      from,
    ]);
    names.delete(to);
    for (const gone of [old, earlier]) if (gone) this.before.delete(gone);
    this.devices.delete(from);
    this.devices.set(to, device);
    this.before.set(device, [...names]);
  }
}

/** Driver, place on its bus (with a digit), name. */
const linuxDriver = /^[a-z][\w-]* (?=[\w.:-]*\d)[\w.:-]*[\w.-] ([A-Za-z][\w.-]*)(?: \([\w ]+\))*: (.*)$/;
const linuxOld = /^[a-z][\w-]*(?: [\w.:-]*\d[\w.-]*)?: ([A-Za-z][\w.-]*\d[\w.-]*): (.*)$/;
const plain = /^([A-Za-z][\w.-]{0,14}):\s+(.*)$/;
const addrconf = /^(?:IPv6: )?ADDRCONF\(\w+\): /;
const renamedFrom = /\brenamed from (\S+)/;

/** Whether a message says that a link came up or went down. */
function linkIn(message: string): boolean | null {
  const link =
    /\blink(?: status)?(?: is| state changed to| becomes)?(?: definitely)?(?: not)? ?[-:]? ?(up|down|ready)\b/i.exec(
      message,
    );
  if (!link || /\b(?:SATA|SAS|PCIe?) link/i.test(message)) return null;
  return link[1]!.toLowerCase() !== 'down' && !/\bnot ready/i.test(message);
}

import type { Finding, FindingCode, TroubleCode } from '../core/index.ts';
import { addressWords } from './findings-addresses.ts';
import { careWords, numberWords } from './findings-care.ts';
import { certificateWords } from './findings-certificates.ts';
import { ruleWords } from './findings-rules.ts';
import { standardWords } from './findings-standard.ts';
import { count, encodingName, verb } from './numbers.ts';
import { type Said, say, value } from './said.ts';
import { troubleWords } from './trouble.ts';

export interface FindingWords {
  /** One sentence that says what is wrong. */
  readonly what: Said;
  /** Why it matters and what you can do. */
  readonly why: string;
}

export type Params = Readonly<Record<string, string | number>>;

const reasons: Record<string, string> = {
  'driver-setting': 'a setting of a driver or the kernel',
  console: 'a setting of the serial console',
  boot: 'a setting of how the box starts',
  'hardware-address': 'a hardware address',
  licence: 'a licence',
  'serial-number': 'a serial number',
  told: 'bound to the old box, as you say',
};

/** What makes a place fit one box only, in words. */
export const reasonWords = (reason: string): string => reasons[reason] ?? 'a setting of this one box';

const manyReasons: Record<string, string> = {
  'driver-setting': 'settings of a driver or the kernel',
  console: 'settings of the serial console',
  boot: 'settings of how the box starts',
  'hardware-address': 'hardware addresses',
  licence: 'licences',
  'serial-number': 'serial numbers',
  told: 'settings bound to the old box, as you say,',
};

/** The same of several places. */
export const manyReasonWords = (reason: string): string => manyReasons[reason] ?? 'settings of this one box';

const idleWords: Record<string, string> = {
  gone: 'it no longer stands',
  other: 'what stands there now says more, or stands in several places',
  grave: 'what would break something cannot be set aside',
};

const words: Record<FindingCode, (params: Params) => FindingWords> = {
  'reference-dangling': ({ value: name, nearest, field }) => ({
    what: say`${value(field)} names ${value(name)}, and no such record is there.${nearest === undefined ? '' : say` There is ${value(nearest)}.`}`,
    why: 'The name may be mistyped, or what it named was deleted. The box may ignore the record or refuse it.',
  }),
  'reference-recurring': ({ value: name, field }) => ({
    what: say`${value(field)} names ${value(name)}, and no such record is there.`,
    why: 'The file says it in several places, so it may be a word that the box knows by itself. If it was the name of something that was deleted, the box may ignore these records or refuse them.',
  }),
  'reference-case': ({ value: name, field, written }) => ({
    what: say`${value(field)} names ${value(name)}, and the record is written ${value(written)}.`,
    why: 'Capitals may count on the new box, and then nothing is named here. Write both alike.',
  }),
  'reference-left-out': ({ value: name, field, target }) => ({
    what: say`${value(field)} names ${value(name)}, and you left ${target === name || target === undefined ? 'it' : value(target)} out.`,
    why: 'Carried like this, the reference points at nothing. Take the named record along, or leave this one out too.',
  }),
  'port-doubled': ({ port, from }) => ({
    what: say`${value(from)} would all be called ${value(port)}.`,
    why: 'One port cannot hold what two held. Give each its own name on sheet 2.',
  }),
  'port-in-remark': ({ port, to }) => ({
    what: say`A remark speaks of ${value(port)}, which is ${value(to)} now.`,
    why: 'Remarks are for people, so they stay as they are. Correct this one by hand on the new box if it would mislead.',
  }),
  'port-in-document': ({ ports, count }) => ({
    what: say`A document inside this value speaks of ${value(ports)}, and ${Number(count) === 1 ? 'that port has' : 'those ports have'} another name now.`,
    why: 'Inside a value nothing is rewritten. Sheet 1 shows the document; correct it on the new box.',
  }),
  'port-name-long': ({ port, limit }) => ({
    what: say`${value(port)} has ${String(port).length} characters; a device name has ${limit ?? 15} at most.`,
    why: 'The operating system cuts a longer name or refuses it. Call the device otherwise, or choose another name for its port on sheet 2.',
  }),
  'port-in-aggregate': ({ port, aggregate, role }) => ({
    what: say`${value(role)} sits on ${value(port)}, which is one of the ports of ${value(aggregate)}.`,
    why: 'A port that an aggregate has taken carries the frames of the aggregate only. Put the role on the aggregate, or on another port.',
  }),
  'member-doubled': ({ port, aggregate }) => ({
    what: say`${value(port)} is named as a port of an aggregate twice, of ${value(aggregate)} first.`,
    why: 'A port belongs to one aggregate, once. The box may refuse it, or use one port less than you think.',
  }),
  'port-not-on-receiver': ({ port, role }) => ({
    what: say`${value(role)} needs ${value(port)}, and the new box has no port of that name.`,
    why: 'The role would not come up. Give the port the name of one that the new box has, or move the role.',
  }),
  'role-shares-device': ({ role, other, port }) => ({
    what: say`${value(role)} and ${value(other)} both sit on ${value(port)}.`,
    why: 'Nothing tells the frames of the one from those of the other. Give one of them another port or a VLAN ID of its own.',
  }),
  'role-without-port': ({ role }) => ({
    what: say`${value(role)} sits on no port.`,
    why: 'Rules and services that name it have no effect until you assign it, here on sheet 2 or on the new box.',
  }),
  'tag-doubled': ({ tag, port }) => ({
    what: say`VLAN ${tag ?? 0} is defined twice on ${value(port)}.`,
    why: 'The box may keep only one of them, or refuse both.',
  }),
  'tag-name-differs': ({ device, port, tag }) => ({
    what: say`${value(device)} is called otherwise than what it is: VLAN ${tag ?? 0} on ${value(port)}.`,
    why: 'Where the box makes the name from the parts, whoever uses this name finds no device. Check which of them is meant.',
  }),
  'tag-out-of-range': ({ tag, device }) => ({
    what: say`${value(device)} has the VLAN ID ${value(tag)}; VLAN IDs go from 1 to 4094.`,
    why: 'IEEE 802.1Q keeps 0 and 4095 for itself, and there are none above. The box may refuse it or send the frames untagged.',
  }),
  'box-bound-travels': ({ reason, sign }) => ({
    what: say`This is ${reasonWords(String(reason))}${sign ? say`, by ${value(sign)}` : ''}, and it goes along.`,
    why: 'It fits the old box only. On the new one it does nothing at best. Leave it out on sheet 3, or keep it if you know that it fits.',
  }),
  'encoding-contradicts': ({ label, found }) => ({
    what: label
      ? say`The first line names the encoding ${value(label)}, and the file is in ${encodingName(String(found))}.`
      : say`The file is in ${encodingName(String(found))}, and its first line does not say so.`,
    why: 'A strict reader may refuse it. It goes out in the encoding that it came in.',
  }),
  'encoding-suspect': () => ({
    what: say`Accented letters may be wrong: some stand as two signs each.`,
    why: 'The text may have been saved in another encoding once. It goes across as it is.',
  }),
  'saved-ahead': ({ savedAt }) => ({
    what: say`The file says that it was saved at ${value(savedAt)}, and that time has not come yet.`,
    why: 'The clock of the old box was wrong, or the one of this computer is. Certificates, rules with hours and logs go by the box’s clock: set the clock of the new box before you load the file.',
  }),
  'prefix-unbound': ({ prefix }) => ({
    what: say`The prefix ${value(prefix)} is used and not declared.`,
    why: 'A reader that knows namespaces refuses the file.',
  }),
  'character-unseen': ({ char, count: number }) => ({
    what: say`${count(Number(number ?? 1), 'character', 'characters')} ${value(char)} that nobody sees ${verb(Number(number ?? 1), 'stands', 'stand')} in values of the file.`,
    why: 'Two names can look alike and differ by it. It came from a paste, or from another encoding.',
  }),
  'blank-in-value': ({ field, kind }) => ({
    what:
      kind === 'break'
        ? say`This value of ${value(field)} is broken over two lines, unlike the others of its field.`
        : say`This value of ${value(field)} has blanks around it, unlike the others of its field.`,
    why: 'Some boxes take the blanks as part of the value. Look at it, above all in a name or a password.',
  }),
  'findings-more': ({ of, count: number }) => ({
    what: say`${count(Number(number ?? 0), 'more finding')} of one kind: ${kinds[of as FindingCode]?.toLowerCase() ?? 'the same'}.`,
    why: 'So many alike have one cause as a rule. Look at the ones that are listed, and at the fields that they stand in.',
  }),
  'record-unused': ({ name, count: number, moved, set }) => ({
    what: say`Nothing uses ${value(name)} any more: you ${set ? 'changed or left out' : moved ? 'moved or left out' : 'left out'} ${verb(Number(number ?? 1), 'the record', 'all records')} that named it.`,
    why: 'It does no harm. Leave it out too, if it was there for them alone.',
  }),
  'key-doubled': ({ key }) => ({
    what: say`Two records of one list have the same key ${value(key)}.`,
    why: 'What names this key could mean either. The box may keep only one of them.',
  }),
  'value-outlier': ({ expected }) => ({
    what: say`This value is not like the others in its field${expected ? `: those are of the kind ${expected}` : ''}.`,
    why: 'It may be a slip of the pen, or meant.',
  }),
  'aside-idle': ({ of, reason, why }) => ({
    what: say`You set a finding aside as “${value(reason)}”, and ${idleWords[String(why)] ?? 'it is not there'}: ${kinds[of as FindingCode]?.toLowerCase() ?? 'of another kind'}.`,
    why: 'What you said of it stays in the plan and hides nothing. Take it back if it is over, or set aside what is there now.',
  }),
  ...addressWords,
  ...certificateWords,
  ...ruleWords,
  ...careWords,
  ...numberWords,
  ...standardWords,
  'plan-entry': ({ trouble, ...params }) => {
    const { title, sentence, advice } = troubleWords({ code: trouble as TroubleCode, params });
    return { what: say`${title}. ${sentence}`, why: advice };
  },
};

export const findingWords = (finding: Finding): FindingWords => words[finding.code](finding.params);

/** One kind for all codes of a family. */
const kindsOf = <Code extends string>(family: Record<Code, unknown>, kind: string) =>
  Object.fromEntries(Object.keys(family).map((code) => [code, kind])) as Record<Code, string>;

const kinds: Record<FindingCode, string> = {
  'port-doubled': 'Ports',
  'port-name-long': 'Ports',
  'port-in-remark': 'Ports',
  'port-in-document': 'Ports',
  'port-in-aggregate': 'Ports',
  'member-doubled': 'Ports',
  'port-not-on-receiver': 'Ports',
  'role-shares-device': 'Ports',
  'role-without-port': 'Ports',
  'tag-doubled': 'Ports',
  'tag-name-differs': 'Ports',
  'tag-out-of-range': 'Ports',
  'reference-left-out': 'References',
  'reference-case': 'References',
  'record-unused': 'References',
  'findings-more': 'And more',
  'reference-dangling': 'References',
  'reference-recurring': 'References',
  'key-doubled': 'References',
  'box-bound-travels': 'Bound to the old box',
  'encoding-contradicts': 'The file itself',
  'encoding-suspect': 'The file itself',
  'prefix-unbound': 'The file itself',
  'saved-ahead': 'The file itself',
  'character-unseen': 'The file itself',
  'blank-in-value': 'Values',
  'value-outlier': 'Values',
  ...kindsOf(addressWords, 'Addresses'),
  ...kindsOf(certificateWords, 'Certificates'),
  ...kindsOf(ruleWords, 'Rules'),
  ...kindsOf(numberWords, 'Values'),
  ...kindsOf(standardWords, 'The standard'),
  ...kindsOf(careWords, 'Before the swap'),
  'aside-idle': 'Your plan',
  'plan-entry': 'Your plan',
};

/** What a finding is about, to group by. */
export const kindOf = (code: FindingCode): string => kinds[code];

/** Every code that has words, for tests. */
export const findingCodes = Object.keys(words) as FindingCode[];

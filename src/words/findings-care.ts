import type { FindingCode } from '../core/index.ts';
import type { FindingWords, Params } from './findings.ts';
import { count } from './numbers.ts';
import { type Said, say, value } from './said.ts';

const cautions: Record<string, { readonly about: string; readonly why: string }> = {
  phone: {
    about: 'telephones or emergency calls',
    why: 'While the box is changed nobody can call for help over it. Tell the people there, keep a line that does not pass through it, and make a test call before you leave. What the law asks of emergency calls goes first.',
  },
  lift: {
    about: 'a lift',
    why: 'A lift whose emergency telephone is dead is to be taken out of service in many places. Agree on it with the lift company, and test the call with them. Their licence and the local code decide.',
  },
  alarm: {
    about: 'an alarm',
    why: 'Tell the monitoring station before and after, and test the path with them. Fire alarms are for licensed people; their local code decides.',
  },
  door: {
    about: 'doors, gates or locks',
    why: 'Know beforehand whether they open or stay shut without the network, and keep the ways out free. Local fire code decides.',
  },
  medical: {
    about: 'medical devices',
    why: 'Change nothing before the people who answer for them agree on a time and on what they do meanwhile.',
  },
  payment: {
    about: 'payment terminals',
    why: 'Agree on a time when nobody has to pay, and make a test payment. The rules of the card schemes may ask for this network to be kept apart.',
  },
  control: {
    about: 'machines that move or hold something',
    why: 'Agree on a time with the people who run them, and have them stopped safely. Who may do so is theirs to say.',
  },
};

/** `the box’s own page on port 8443` */
const ownPlace = ({ what, number }: Params) =>
  `the box’s ${what === 'shell' ? 'remote shell' : 'own page'} on port ${Number(number ?? 0)}`;

/** What is missing for an answer, so that one can look there. */
function unknownWay(params: Params): Said {
  if (!params.number) return say`No setting was found that says on which port the box’s own page or shell listens.`;
  switch (params.missing) {
    case 'rules':
      return say`No list of rules was found, so who may reach ${ownPlace(params)} could not be told.`;
    case 'networks':
      return say`The rules name no network that they let in, so who may reach ${ownPlace(params)} could not be told.`;
    default: {
      const asked = say`Whether a rule lets ${params.role ? value(params.role) : 'anyone'} reach ${ownPlace(params)} could not be told`;
      if (!params.rule) return say`${asked}: some rules hold records of their own, which are not read.`;
      return params.gone
        ? say`${asked}: you left out ${value(params.rule)}, which may have done so.`
        : say`${asked}: ${value(params.rule)} may, and not all that it says is understood.`;
    }
  }
}

/** Words for findings about secrets, people, versions and the way back in. */
export const careWords = {
  'caution-mentioned': ({ kind, text, count: number }) => {
    const { about, why } = cautions[String(kind)] ?? {
      about: 'something that people depend on',
      why: 'Ask before you change it.',
    };
    const more = Number(number ?? 1) - 1;
    return {
      what: say`${value(text)}${more > 0 ? ` and ${count(more, 'other place')}` : ''} ${more > 0 ? 'sound' : 'sounds'} like ${about}: ask whether it hangs on this box.`,
      why,
    };
  },
  'caution-swap': () => ({
    what: say`Before the swap: everything that passes through the box stops for a while.`,
    why: 'Ask who depends on it, telephones, lifts, alarms, doors and medical devices first. Work on mains and racks is for people licensed for it, by the local code. Keep the old box and its cables as they are until the new one has run for a day.',
  }),
  'secrets-travel': ({ section, count: number }) => ({
    what: say`${value(section)} holds ${count(Number(number ?? 1), 'secret')} that can be read in the file as they are.`,
    why: 'They go over with it. Treat the result like the keys of the building, and delete copies that you no longer need.',
  }),
  'secret-shared': ({ count: number, field }) => ({
    what: say`The same secret stands in ${count(Number(number ?? 2), 'place')}, in ${value(field)} first.`,
    why: 'Whoever learns one knows the others. Both ends of a tunnel share theirs rightly.',
  }),
  'secret-common': ({ field }) => ({
    what: say`The secret in ${value(field)} is a word that many people use.`,
    why: 'It is among the first that are tried. The swap is a good time to choose another.',
  }),
  'version-differs': ({ donor, receiver, order }) => ({
    what: say`This backup is of version ${value(donor)}, and the new box writes ${value(receiver)}.`,
    why:
      order === 'older'
        ? 'Boxes read older files as a rule and bring them up to date. Look through what it says when it loads.'
        : 'A box may refuse a file that is newer than itself, or leave out what it does not know. Bring the new box up to date first.',
  }),
  'way-in-left-out': (params) => ({
    what: say`You left out the record of ${ownPlace(params)}.`,
    why: 'The new box may then be reached by its factory settings only, or by a cable. Make sure that you have a way in.',
  }),
  'way-in-closed': (params) => ({
    what: say`You left out the networks on which one reaches ${ownPlace(params)}, such as ${value(params.role)}.`,
    why: 'After the swap nobody reaches it from the network. Take one of them along, or have a cable for the console at hand.',
  }),
  'way-in-lost': (params) => ({
    what: say`${params.gone ? say`You left out the rule ${value(params.rule)}` : say`By what you set, the rule ${value(params.rule)} no longer helps`}: it let ${value(params.role)} reach ${ownPlace(params)}${params.maybe ? ', and whether another rule does could not be told.' : ', and no other rule is known to.'}`,
    why: 'After the swap you may be locked out from the network. Take the rule along or write another, or have a cable for the console at hand.',
  }),
  'way-in-no-rule': (params) => ({
    what: say`No rule lets ${params.role ? value(params.role) : 'anyone'} reach ${ownPlace(params)}, neither before your plan nor after it.`,
    why: 'Many boxes let an inner network in by a rule of their own that no file shows; others let nobody in. Look up what the new one does, and have a cable for the console at hand.',
  }),
  'way-in-unknown': (params) => ({
    what: unknownWay(params),
    why: 'Look it up before the swap, and have a cable for the console at hand.',
  }),
} satisfies Partial<Record<FindingCode, (params: Params) => FindingWords>>;

/** Words for findings about single names and numbers. */
export const numberWords = {
  'port-number': ({ value: text, field }) => ({
    what: say`${value(text)} in ${value(field)} is no port number.`,
    why: 'Ports go from 1 to 65535. The box may refuse the record.',
  }),
  'port-range-reversed': ({ value: text, field }) => ({
    what: say`The range ${value(text)} in ${value(field)} ends before it begins.`,
    why: 'The box may refuse it or take it as empty, and then nothing fits.',
  }),
  'frame-too-small': ({ value: text, field, least }) => ({
    what: say`${value(text)} in ${value(field)} is less than the ${Number(least ?? 68)} octets that every link has to carry.`,
    why: 'The protocol does not work over a smaller one (RFC 791, RFC 8200). The box may refuse it or turn the protocol off.',
  }),
  'frame-over-parent': ({ device, parent, frame, least }) => ({
    what: say`${value(device)} may send frames of ${Number(frame ?? 0)} octets, and ${value(parent)}, which carries them, takes ${Number(least ?? 0)} at most.`,
    why: 'What is larger is lost, or the box refuses the size. Make the one smaller or the other larger.',
  }),
  'day-not-there': ({ value: text, field }) => ({
    what: say`${value(text)} in ${value(field)} is a day that its month does not have.`,
    why: 'The box may refuse it or take another day for it.',
  }),
  'host-name-malformed': ({ value: text, field }) => ({
    what: say`${value(text)} in ${value(field)} is no host name, unlike the others of its field.`,
    why: 'Host names have letters, digits and inner dashes (RFC 1123). Some programs do not find it.',
  }),
  'mac-form': ({ value: text, field }) => ({
    what: say`${value(text)} in ${value(field)} is written otherwise than the other hardware addresses of its field.`,
    why: 'It is a good address. A box that takes one form only may refuse the record.',
  }),
  'mac-of-a-group': ({ value: text, field }) => ({
    what: say`${value(text)} in ${value(field)} is no address of a single device.`,
    why: 'Its first octet marks a group, or it is empty (RFC 9542). No card has it, so the record fits nobody.',
  }),
} satisfies Partial<Record<FindingCode, (params: Params) => FindingWords>>;

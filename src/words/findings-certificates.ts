import type { FindingCode } from '../core/index.ts';
import type { FindingWords, Params } from './findings.ts';
import { count } from './numbers.ts';
import { say, value } from './said.ts';

const day = (time: string | number | undefined) => String(time ?? '').slice(0, 10);

/** Words for findings about certificates. */
export const certificateWords: Record<
  Extract<FindingCode, `certificate-${string}`>,
  (params: Params) => FindingWords
> = {
  'certificate-expired': ({ subject, notAfter }) => ({
    what: say`The certificate of ${value(subject)} ended on ${day(notAfter)}.`,
    why: 'Whoever checks it refuses the connection. Renew it on the new box.',
  }),
  'certificate-not-yet': ({ subject, notBefore }) => ({
    what: say`The certificate of ${value(subject)} begins on ${day(notBefore)}.`,
    why: 'Until then whoever checks it refuses the connection. Look at the clocks of this computer and of the box.',
  }),
  'certificate-expiring': ({ subject, notAfter, days }) => ({
    what: say`The certificate of ${value(subject)} ends on ${day(notAfter)}, in ${count(Number(days ?? 0), 'day')}.`,
    why: 'Plan its renewal with the swap; afterwards nobody may remember it.',
  }),
  'certificate-key-missing': ({ subject, changed }) => ({
    what: changed
      ? say`What you put in the place of the private key is no key of the certificate of ${value(subject)}.`
      : say`The certificate of ${value(subject)} has no private key in this file; the others beside it have theirs.`,
    why: 'The new box cannot use it without its key. The key may be kept elsewhere or be encrypted; find it before the swap.',
  }),
  'certificate-key-strange': ({ subject }) => ({
    what: say`The private key beside the certificate of ${value(subject)} does not fit it.`,
    why: 'The box cannot use the two together. One of them was replaced without the other.',
  }),
  'certificate-key-left-out': ({ subject }) => ({
    what: say`The certificate of ${value(subject)} goes over, and you left its private key out.`,
    why: 'The new box cannot use it without its key. Take the key along, or leave the certificate out too.',
  }),
  'certificate-issuer-missing': ({ subject, issuer }) => ({
    what: say`The file does not hold the certificate of ${value(issuer)}, which issued the one of ${value(subject)}.`,
    why: 'With a public authority that is usual. With one of your own the box may need it to prove who it is.',
  }),
  'certificate-issuer-left-out': ({ subject, issuer }) => ({
    what: say`The certificate of ${value(subject)} goes over, and you left its authority ${value(issuer)} out.`,
    why: 'The box may not be able to prove who it is, or to trust its clients. Take the authority along.',
  }),
  'certificate-signature': ({ subject, issuer }) => ({
    what:
      subject === issuer
        ? say`The certificate of ${value(subject)} signs for itself, and its signature does not fit.`
        : say`The certificate of ${value(subject)} names ${value(issuer)} as its issuer. The name fits one in this file, the signature does not.`,
    why: 'Whoever checks the chain refuses it. The authority may have been made anew under its old name, or the certificate was changed on its way.',
  }),
  'certificate-name': ({ subject, names, host }) => ({
    what: say`The certificate of ${value(subject)}, which the box’s own page shows, is for ${value(names)}; the box is called ${value(host)}.`,
    why: 'A browser warns where the name that you type is not in the certificate (RFC 9525). If you call the page by one of these names, all is well.',
  }),
  'certificate-unread': () => ({
    what: say`A certificate belongs here, and what stands here cannot be read as one.`,
    why: 'It may have been cut off or changed on its way. The box refuses it, and whatever uses it does not start.',
  }),
  'certificate-weak-key': ({ subject, bits }) => ({
    what: say`The key of the certificate of ${value(subject)} has ${Number(bits ?? 0)} bits only.`,
    why: 'RSA keys below 2048 bits are refused by many programs of today, so something that still works may stop with the new box.',
  }),
  'certificate-weak-digest': ({ subject, digest }) => ({
    what: say`The certificate of ${value(subject)} is signed with ${value(digest)}.`,
    why: 'Signatures with it can be forged, and many programs of today refuse them. Have it issued again.',
  }),
};

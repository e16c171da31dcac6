import type { BoundFieldView, SecretFieldView } from '../../core/index.ts';
import { care } from '../../state/open.ts';
import { useOpened, usePlan } from '../../state/selectors.ts';
import { useAsked } from '../../ui/use-asked.ts';
import { lastStep, pathWords } from '../../words/decisions.ts';
import { reasonWords } from '../../words/findings.ts';
import { number } from '../../words/numbers.ts';
import type { SourcePlace } from '../source/source-view.tsx';
import { Certificates } from './certificates.tsx';
import { Documents } from './documents.tsx';
import { LineLink, type Looking } from './line-link.tsx';
import { PublicKeys } from './public-keys.tsx';
import { DeniedRows, say, TakeBack, useSaid, YouSaySo } from './said.tsx';
import { NamedRowHead, TitledTable } from './titled-table.tsx';

/** Fields whose values are blacked out everywhere, and settings that fit the old box only. */
export function Care({ onLook }: { onLook: (place: SourcePlace) => void }) {
  const { id } = useOpened();
  const plan = usePlan();
  const view = useAsked(() => care(plan), [id, plan]);
  if (!view) return <p className="quiet-note">Listing secrets and box-bound settings.</p>;
  return (
    <>
      <Secrets secrets={view.secrets} onLook={onLook} />
      {view.certificates.length > 0 && <Certificates certificates={view.certificates} onLook={onLook} />}
      {view.publicKeys.length > 0 && <PublicKeys keys={view.publicKeys} onLook={onLook} />}
      <Bound bound={view.boxBound} onLook={onLook} />
      {view.documentCount > 0 && <Documents documents={view.documents} total={view.documentCount} onLook={onLook} />}
      <p className="quiet-note">
        Is one missing? Find its field under Every field and say so there. It then counts for all places of that field.
      </p>
    </>
  );
}

const kindWords: Record<SecretFieldView['kinds'][number], string> = {
  'private-key': 'private key',
  hash: 'hash of a password',
  'shared-secret': 'shared secret',
  password: 'password',
  token: 'token',
};

function Secrets({ secrets, onLook }: Looking & { secrets: readonly SecretFieldView[] }) {
  const said = useSaid('secret');
  const denied = said
    .filter(({ yes }) => !yes)
    .map(({ template }) => ({
      subject: `secret ${template}`,
      what: lastStep(template),
      detail: pathWords(template) || template,
    }));
  // The next reading is under way: what was denied goes at once.
  const gone = new Set(said.filter(({ yes }) => !yes).map(({ template }) => template));
  const shown = secrets.filter(({ template }) => !gone.has(template));
  const confirmed = new Set(said.filter(({ yes }) => yes).map(({ template }) => template));
  return (
    <>
      <TitledTable
        title="Secrets"
        about="Blacked out on every sheet. What you deny is shown in the clear."
        caption="Fields that hold secrets"
        columns={[
          'Field',
          'What it is',
          { name: 'Places', num: true },
          { name: 'Line', num: true },
          { name: 'Is that right?', num: true },
        ]}
      >
        <DeniedRows denied={denied.map((one) => ({ ...one, subject: `correct ${one.subject}` }))} columns={5} />
        <tbody>
          {shown.map((one) => {
            const name = lastStep(one.template);
            return (
              <tr key={one.template}>
                <td className="m" />
                <NamedRowHead name={name} where={pathWords(one.path) || one.path} />
                <td>{one.kinds.map((kind) => kindWords[kind]).join(', ')}</td>
                <td className="num nowrap">
                  {one.count === one.total ? number(one.count) : `${number(one.count)} of ${number(one.total)}`}
                </td>
                <td className="num">
                  <LineLink place={one.place} what={name} onLook={onLook} />
                </td>
                <td className="num">
                  <div className="acts">
                    {confirmed.has(one.template) ? (
                      <>
                        <YouSaySo />
                        <TakeBack subjects={[`correct secret ${one.template}`]} what={name} />
                      </>
                    ) : (
                      <Answers
                        yes={`Yes, ${name} is a secret`}
                        no={`No, ${name} is no secret`}
                        onAnswer={(yes) =>
                          say(`${name} is ${yes ? 'a' : 'no'} secret`, {
                            correct: 'secret',
                            template: one.template,
                            yes,
                          })
                        }
                      />
                    )}
                  </div>
                </td>
              </tr>
            );
          })}
        </tbody>
      </TitledTable>
      {shown.length === 0 && <p className="quiet-note">No field looks like it holds a secret.</p>}
    </>
  );
}

function Answers({ yes, no, onAnswer }: { yes?: string; no: string; onAnswer: (yes: boolean) => void }) {
  return (
    <>
      {yes && (
        <button type="button" className="btn small plan" aria-label={yes} onClick={() => onAnswer(true)}>
          Yes
        </button>
      )}
      <button type="button" className="btn small plan" aria-label={no} onClick={() => onAnswer(false)}>
        No
      </button>
    </>
  );
}

function Bound({ bound, onLook }: Looking & { bound: readonly BoundFieldView[] }) {
  const said = useSaid('box-bound');
  const subject = (template: string, sign?: string) =>
    `correct box-bound ${template}${sign === undefined ? '' : ` ${sign}`}`;
  const templates = new Map<string, number>();
  for (const { template } of bound) templates.set(template, (templates.get(template) ?? 0) + 1);
  // Settings of a list share a path; what gave each away tells them apart.
  const isOneOfMany = ({ template, sign }: BoundFieldView) => sign !== '' && templates.get(template)! > 1;
  const nameOf = (one: BoundFieldView) => (isOneOfMany(one) ? one.sign : lastStep(one.template));
  const shown = bound.filter(
    (one) => !said.some(({ yes, template, sign }) => !yes && covers(template, one) && (sign ?? one.sign) === one.sign),
  );
  const denied = said
    .filter(({ yes }) => !yes)
    .map(({ template, sign }) => ({
      subject: subject(template, sign),
      what: sign || lastStep(template),
      detail: pathWords(template) || template,
    }));
  return (
    <>
      <TitledTable
        title="Bound to the old box"
        about="They fit no other box. Whether they stay behind you say on sheet 3."
        caption="Settings that fit the old box only"
        columns={[
          'Setting',
          'Why',
          { name: 'Places', num: true },
          { name: 'Line', num: true },
          { name: 'Is that right?', num: true },
        ]}
      >
        <DeniedRows denied={denied} columns={5} />
        <tbody>
          {shown.map((one) => {
            const name = nameOf(one);
            const told =
              one.reason === 'told' ? said.find(({ yes, template }) => yes && covers(template, one)) : undefined;
            return (
              <tr key={JSON.stringify([one.template, one.reason, one.sign])}>
                <td className="m" />
                <NamedRowHead name={name} where={pathWords(one.template) || one.template} />
                <td>
                  {reasonWords(one.reason)}
                  {one.sign && one.sign !== name && (
                    <>
                      , by <code>{one.sign}</code>
                    </>
                  )}
                </td>
                <td className="num">{number(one.count)}</td>
                <td className="num">
                  <LineLink place={one.place} what={name} onLook={onLook} />
                </td>
                <td className="num">
                  <div className="acts">
                    {told ? (
                      <>
                        <YouSaySo />
                        <TakeBack subjects={[subject(told.template, told.sign)]} what={name} />
                      </>
                    ) : (
                      <Answers
                        no={`No, ${name} is not bound to the old box`}
                        onAnswer={() =>
                          say(`${name} is not bound to the old box`, {
                            correct: 'box-bound',
                            template: one.template,
                            yes: false,
                            ...(isOneOfMany(one) && { sign: one.sign }),
                          })
                        }
                      />
                    )}
                  </div>
                </td>
              </tr>
            );
          })}
        </tbody>
      </TitledTable>
      {bound.length === 0 && <p className="quiet-note">Nothing looks like it fits this one box only.</p>}
    </>
  );
}

/** A field's path may hold `*` for tags that are keys. */
function covers(template: string, { template: path }: BoundFieldView): boolean {
  const steps = template.split('/');
  const own = path.split('/');
  return steps.length === own.length && steps.every((step, at) => step === '*' || step === own[at]);
}

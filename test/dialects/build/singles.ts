import type { Model, Role } from '../model.ts';
import { type Doc, type Field, type Rec, T } from '../records.ts';
import type { Terms } from './terms.ts';

/** What exists once: the box itself, its console and page, logins, sensors, the last change. */
export function singleRecords(model: Model, t: Terms): Doc['singles'] {
  const { secret, wordless, d, ref, text, free, list, rec, viaField, idWord } = t;
  const userKey = (name: string): string => t.keys.get(t.uid('user', name)) as string;
  /** Without words, a few numbers do not show that they are a console's or a boot loader's. */
  const boxBound = wordless ? { optional: true } : { hardware: true };
  const singles: { rec: Rec; section: string }[] = [];
  const rolesField = (roles: readonly Role[]): Field => {
    const tokens = roles.map((x) => ref('role', x.name));
    return d.keys.role === 'int'
      ? { concept: 'roles.ref', compound: ['role', 'id'], tokens, list: true }
      : list('roles', tokens);
  };
  const one = (section: string, x: Rec): void => {
    singles.push({ rec: x, section });
  };
  const console_ = rec('console', 'console', [text('speed', model.console.speed), text('flow', model.console.flow)], {
    ...boxBound,
  });
  one(
    'sec.base',
    rec(
      'general',
      'general',
      [
        text('host', model.host),
        text('domain', 'kestrelquay.example'),
        text('zone', 'Europe/Dublin'),
        list('resolver', ['192.0.2.53', '198.51.100.53'].map(T)),
        ...(model.serial === null ? [] : [{ ...text('serial', model.serial), optional: true }]),
        ...(model.licence === null ? [] : [{ ...text('licence', model.licence), optional: true }]),
      ],
      {
        singles: [
          console_,
          ...(model.boot === null
            ? []
            : [rec('boot', 'boot', [text('loader', model.boot.delay), text('disk', model.boot.disk)], boxBound)]),
          rec('admin', 'admin', [
            idWord('cert', 'certificateNamed', ref('cert', model.adminCert.name)),
            text('tlsport', String(model.adminPort)),
            text('keylife', '10'),
          ]),
        ],
      },
    ),
  );
  if (model.radius !== null)
    one(
      'sec.svc',
      rec('radius', 'radius', [rolesField(model.radius.roles)], {
        colls: [
          {
            concept: 'ap',
            section: '',
            tagField: null,
            records: model.radius.aps.map((a) =>
              rec(`ap:${a.name}`, 'ap', [text('name', a.name), text('ip', a.ip), secret('secret', a.secret)]),
            ),
          },
        ],
      }),
    );
  if (model.sensor !== null)
    one(
      'sec.svc',
      rec('sensor', 'sensor', [
        rolesField(model.sensor.roles),
        list('muted', model.sensor.muted.map(T)),
        list('families', model.sensor.families.map(T)),
      ]),
    );
  if (model.tunnelKey !== null)
    one('sec.svc', rec('tunnelkey', 'data', [secret('key', model.tunnelKey), text('tlsport', '51820')]));
  if (model.dyn !== null)
    one(
      'sec.svc',
      rec('dyn', 'dyn', [
        viaField(ref('role', model.dyn.role.name)),
        text('url', model.dyn.url),
        text('login', model.dyn.login),
        secret('secret', model.dyn.password),
      ]),
    );
  if (model.mail !== null)
    one(
      'sec.base',
      rec('mail', 'mail', [
        text('smtphost', model.mail.host),
        text('login', model.mail.login),
        secret('secret', model.mail.password),
      ]),
    );
  if (model.history !== null) one('sec.base', rec('history', 'history', [text('value', model.history)]));
  if (model.saved !== null)
    one(
      'sec.base',
      rec('saved', 'saved', [
        text('time', model.saved.time),
        { ...text('by', userKey(model.saved.by.name)), optional: true },
        free('label', model.saved.label),
      ]),
    );
  return singles;
}

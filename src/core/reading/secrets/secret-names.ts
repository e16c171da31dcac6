import { plain, wordsOf } from '../../values/name-words.ts';

/**
 * What a field's name says about secrets. Words of the trade and plain words of several languages, from memory: weak
 * evidence that values confirm, since a dialect may use others or none.
 */
export type NameSays = 'password' | 'shared-secret' | 'private-key' | 'token' | 'public' | 'about-secrets' | null;

const list = (text: string) => plain(text).trim().split(/\s+/);

/** Found inside a name whose words run together. */
const inside: readonly (readonly [NameSays, readonly string[]])[] = [
  [
    'shared-secret',
    list(`secret secreto segreto segredo geheim sharedkey radiuskey presharedkey preshared presharedsecret sharedpass passphrase frasedepaso
      frase secrete sekret tajn тайн секрет μυστικ 秘密 口令 合言葉 共享密 共有鍵 aikotoba losungswort losung wachtzin clavecompartida
      obshchiyklyuch общийключ κοινοκλειδι kyouyuukagi vorabschluessel gemeinsamerschluessel chiavecondivisa chiavecomune clavecomun chavecomum clecommune
      chaveconjunta chavepartilhada chavecompartilhada clepartagee gedeeldesleutel delatnyckel kluczwspoldzielony`),
  ],
  [
    'password',
    list(`password passwd passwort passcode kennwort contrasen motdepasse senha parola parol wachtwoord losenord
      adgangskode salasana haslo heslo jelszo parool paswoord пароль парол κωδικοσ κωδικος συνθηματικ 密码 密碼 暗証
      パスワード 비밀번호 암호 angou anshou`),
  ],
  [
    'private-key',
    list(`privatekey privatepart privkey secretkey secrethalf privaterschluessel clavepri claveprivada cleprivee zakrytyyklyuch
      закрытыйключ ιδιωτικοκλειδι 私钥 秘密鍵 himitsukagi`),
  ],
  ['token', list('apikey accesskey authkey apitoken bearer authtoken')],
];

/** Whole words only, being short or common inside others. */
const words: Record<string, NameSays> = {};
for (const word of list('psk wpa community comunidad comunidade communaute comunita phrase'))
  words[word] = 'shared-secret';
for (const word of list('pw pwd pass pin mdp')) words[word] = 'password';
for (const word of list('pkey privkey')) words[word] = 'private-key';
for (const word of list('pk pbk pub pubkey')) words[word] = 'public';
for (const word of list('token credential credentials')) words[word] = 'token';

/** What is only called so is shared by those who know it; a network that is shared has a longer name. */
const alone = new Set(list('shared geteilt gemeinsam compartida compartido partage condivisa gedeeld delad'));

const publicWords = list(
  'public pub oeffentlich offentlich publica publico publique pubblica openbar otkrytyy открыт δημοσι 公钥 公開 公开 koukai certificate cert zertifikat certificado fingerprint peerkey',
);

/** Last words of names for what two ends share, or for much else (RFC 2385: the TCP MD5 option of BGP); from memory. */
const keys = new Set(
  list(
    'key keys md5 schlussel schluessel cle clef clave chave chiave sleutel nyckel nokkel klucz klic kulcs kluch ключ κλειδι 鍵 密钥',
  ),
);

/** True for a name that a passphrase may have where the record has somebody at the other end. */
export function namesKey(name: string): boolean {
  return keys.has(wordsOf(name).at(-1) ?? '');
}

/** The same of a name whose words run together, which says less: `wifikey`. */
export const endsInKey = (name: string): boolean => namesKey(name) || compound.test(wordsOf(name).at(-1) ?? '');
const compound = new RegExp(`(?:${[...keys].filter((key) => /^\p{L}{3,}$/u.test(key)).join('|')})$`);

/** Words that make of a secret's name the name of a setting about secrets: its length, age, kind, policy or holder. */
const about = new Set(
  list(`min max minimum maximum length len life lifetime timeout expire expires expiry expiration age ttl policy type kind method
    mode algorithm alg cipher id ref reference name user username hint enabled enable count retries attempts minutes hours
    days seconds interval format required complexity history file path url uri rotation rekey size bits strength quality
    laenge lange dauer alter longitud minutos dias duracion dlina dlitelnost dauer tage stunden sitzungsdauer change changed
    last date time owner level index label comment description note server host port prompt reset show visible
    длина срок 长度 期限 διαρκεια μηκοσ kigen`),
);

const known = new Map<string, NameSays>();

/** What the name of a value says, and where it says nothing, the name together with that of the part around it. */
export function nameSays(name: string, around = ''): NameSays {
  const says = cached(name);
  return says !== null || around === '' ? says : cached(`${around}-${name}`);
}

function cached(name: string): NameSays {
  let says = known.get(name);
  if (says === undefined) {
    says = judge(name);
    if (known.size < 20_000) known.set(name, says);
  }
  return says;
}

function judge(name: string): NameSays {
  const parts = wordsOf(name);
  const joined = parts.join('');
  let says: NameSays = null;
  for (const part of parts) says ??= words[part] ?? null;
  if (alone.has(joined)) says ??= 'shared-secret';
  for (const [kind, stems] of insideStems) says ??= holdsAny(joined, parts, stems) ? kind : null;
  const isPublic = holdsAny(joined, parts, publicStems);
  if (says === null) return isPublic ? 'public' : null;
  if (isPublic) return says === 'private-key' ? says : 'public';
  return parts.some((part) => about.has(part)) ? 'about-secrets' : says;
}

/** Short Latin stems occur inside other words by accident, so they have to be a whole word or begin the name. */
interface Stems {
  readonly anywhere: RegExp | null;
  readonly short: readonly string[];
}

function stemsOf(stems: readonly string[]): Stems {
  const isLong = (stem: string) => stem.length >= 6 || stem.charCodeAt(0) > 0x24f;
  // Letters only, so nothing needs to be escaped.
  const long = stems.filter(isLong);
  return {
    anywhere: long.length > 0 ? new RegExp(long.join('|')) : null,
    short: stems.filter((stem) => !isLong(stem)),
  };
}

const holdsAny = (joined: string, parts: readonly string[], { anywhere, short }: Stems): boolean =>
  (anywhere?.test(joined) ?? false) || short.some((stem) => joined.startsWith(stem) || parts.includes(stem));

const insideStems = inside.map(([kind, stems]) => [kind, stemsOf(stems)] as const);
const publicStems = stemsOf(publicWords);

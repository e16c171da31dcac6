/**
 * What rules are made of, as files of the trade write it in several languages; from memory. A word alone decides nothing:
 * a list of rules is one only where all of a field's values are of these words and other fields hold addresses, ports or roles.
 */
const allowing =
  'allow allowed permit permitted accept accepted pass passed go + erlauben erlaubt zulassen permitir permitido autoriser autorise dopustit razreshit разрешить разрешено 允许 許可 επιτρεπεται';
const denying =
  'deny denied block blocked drop dropped reject rejected discard refuse stop halt - verbieten verboten sperren verwerfen denegar denegado bloquear refuser interdit rejeter zapretit запретить запрещено отклонить 拒绝 拒否 阻止 απαγορευεται';
const sentences = { 'let through': true, 'turn away': false };

const actions = new Map<string, boolean>([
  ...allowing.split(' ').map((word) => [word, true] as const),
  ...denying.split(' ').map((word) => [word, false] as const),
  ...Object.entries(sentences),
]);

/** True for an action that lets packets pass, false for one that does not, undefined for any other word. */
export function actionOf(value: string): boolean | undefined {
  return actions.get(value.toLowerCase());
}

const setOf = (words: string) => new Set(words.split(' '));

/** Stands for everything where an address, a port, a protocol or a role may stand. */
export const anyWords = setOf(
  'any all * everywhere everything everyone anywhere anyone alle beliebig todos cualquiera tous любой 任意 すべて',
);

/** Stands for the box itself where an address or a role may stand: `self`, `this box`; see `isSelf`. */
const selfWords = setOf(
  'self itself me myself localhost local box thisbox thehost thisdevice device appliance router gateway firewall selbst ich eigen eigenes soi moi lui mismo propio equipo aparato sam сам 自身 本机 本体 自分',
);

/** True for a word that stands for the box itself, where it names nothing. */
export const isSelf = (text: string): boolean =>
  text.length <= 24 && selfWords.has(text.toLowerCase().replace(/[\s_-]+/g, ''));

/** Around the name of a network: all of its addresses, and one that is either the box's own or all of them. */
export const networkWords = setOf(
  'net nets network networks subnet subnets lan netz subnetz teilnetz red subred reseau rete сеть 网 网段',
);
export const addressWords = setOf('address addr ip ipaddress adresse direccion adresa indirizzo адрес 地址 アドレス');

/** Names of protocols above IP (IANA protocol numbers). */
export const protocolWords = setOf(
  'tcp udp icmp icmpv6 icmp6 ipv6-icmp igmp esp ah gre sctp ospf pim ipip ipencap vrrp carp any all * ip ipv4 ipv6',
);

/** Fields that tell people something, or that are about records rather than packets. */
export const remarkWords = setOf(
  'label labels description descr desc remark remarks note notes comment comments title name say saying text info bezeichnung beschreibung bemerkung notiz kommentar titel descripcion nota comentario etiqueta remarque описание заметка 备注 説明 ετικετα σημειωση created updated changed modified author user owner',
);
export const logWords = setOf(
  'log logs logging logged protokoll protokollieren journal registro registrar журнал 日志 ログ',
);
export const portWords = setOf(
  'port ports destport sourceport destinationport dport sport dstport srcport service services dienst dienste servicio servicios puerto puertos porta porte poort порт 端口 サービス 服务 πορτα',
);
export const sourceWords = setOf(
  'source src from sender quelle von whence origin origen fuente источник 源 送信元 πηγη',
);
export const destinationWords = setOf(
  'destination dest dst to receiver ziel nach whither target destino назначение 目的 宛先 προορισμοσ',
);

/** By which network packets come in, and by which they go out. */
export const inWords = setOf('in ingress incoming inbound entering arrives eingang eingehend entrada entree вход 入');
export const outWords = setOf('out egress outgoing outbound leaving ausgang ausgehend salida sortie выход 出');

/** Turns the meaning of what stands beside it round, or into a comparison. */
export const turningWords = setOf(
  'not invert inverted inverse negate negated negation except neg nicht ausser no neq ne lt gt lte gte le ge eq range exclude excluded',
);

export const hasAny = (words: Iterable<string>, among: ReadonlySet<string>): boolean => {
  for (const word of words) if (among.has(word)) return true;
  return false;
};

import { expect, test } from 'vitest';
import { linksOf } from './links.ts';

/** Records that go by numbers, and tables that have one record for each network: `Faixa rede="12"`. */
const list = (name: string, rows: readonly string[]) => `<${name}>${rows.join('')}</${name}>`;
const box = `<Copia>${[
  list(
    'Redes',
    ['em0', 'em1', 'em2', 'em3', 'em4'].map(
      (port, at) => `<Rede n="${11 + at}" dispositivo="${port}" endereco="172.20.${at}.1/24" nota="Rede ${at}"/>`,
    ),
  ),
  list(
    'Concessoes',
    [12, 13, 14, 15].map((net) => `<Faixa rede="${net}" de="172.20.${net - 11}.100" ate="172.20.${net - 11}.150"/>`),
  ),
  list(
    'Nomes',
    [12, 13, 15].map((net) => `<Escuta rede="${net}" ordem="yes"/>`),
  ),
  list(
    'Traducoes',
    [11, 14, 12].map((net) => `<Mascara rede="${net}" velocidade="1000" atras="fora"/>`),
  ),
  list(
    'Filtro',
    [12, 12, 13, 13, 14, 15].map(
      (net, at) => `<Regra n="${501 + at}" daRede="${net}" paraRede="11" porta="443" faz="passa"/>`,
    ),
  ),
].join('')}</Copia>`;

test('what records are called is no word for their numbers, though it tells those apart that have one for each', () => {
  const { names } = linksOf(box);
  const places = ['Faixa', 'Escuta', 'Mascara'].map(
    (table) => names.filter((name) => new RegExp(`^${table}/rede \\d+ -> Rede$`).test(name)).length,
  );
  expect(places).toEqual([4, 3, 3]);
  expect(names.filter((name) => /^Regra\/(?:daRede|paraRede) \d+ -> Rede$/.test(name))).toHaveLength(12);
});

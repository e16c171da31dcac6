import { describe, expect, test } from 'vitest';
import { sitePath } from '../../src/core/xml/path.ts';
import { detailsOf, documentOf, type Known } from './document.ts';

const boundIn = (xml: string, known: Known = {}) => {
  const document = documentOf(xml);
  return detailsOf(document, known).boxBound.map(
    ({ node, attr, reason, sign }) => `${sitePath(document.tree, { node, attr })} ${reason} ${sign}`,
  );
};

describe('variables of drivers and the machine', () => {
  const names = ['hw.igb.num_queues', 'net.inet.tcp.tso', 'dev.igb.0.fc', 'kern.randompid'];
  const bound = [1, 3];

  test('in records of name and value, by elements or attributes', () => {
    const elements = names.map((name) => `<s><n>${name}</n><v>2</v></s>`).join('');
    expect(boundIn(`<b><t>${elements}</t></b>`)).toEqual(
      bound.map((at) => `/b[1]/t[1]/s[${at}] driver-setting ${names[at - 1]}`),
    );
    const attributes = names.map((name) => `<s n="${name}" v="2"/>`).join('');
    expect(boundIn(`<b><t>${attributes}</t></b>`)).toEqual(
      bound.map((at) => `/b[1]/t[1]/s[${at}] driver-setting ${names[at - 1]}`),
    );
  });

  test('whatever they begin with, where they carry the driver of a port of this file; and those of two parts', () => {
    const settings = ['drv.ge.rx_ring', 'opt.zz.rx_ring', 'machdep.hyperthreading', 'hw.intr_storm_limit', 'hw.shop'];
    const rows = settings.map((name) => `<s><n>${name}</n><v>2</v></s>`).join('');
    const ports = [{ at: '/b[1]/p[1]', value: 'ge0' }];
    expect(boundIn(`<b><p>ge0</p><t>${rows}</t></b>`, { ports })).toEqual([
      '/b[1]/t[1]/s[1] driver-setting drv.ge.rx_ring',
      '/b[1]/t[1]/s[3] driver-setting machdep.hyperthreading',
      '/b[1]/t[1]/s[4] driver-setting hw.intr_storm_limit',
    ]);
  });

  test('as lines that set one, and lines of the console', () => {
    const lines = [
      'tune dev.igb.0.fc 0',
      'hw.igb.num_queues=2',
      'console speed 19200',
      'clock Europe/Dublin',
      'console=ttyS0,115200',
    ];
    // What a kernel is started with is one value of several words.
    expect(boundIn('<b><s k="boot.line" v="console=tty0 quiet"/><s k="clock.line" v="quiet"/></b>')).toEqual([
      '/b[1]/s[1] console boot.line',
    ]);
    expect(boundIn(`<b>${lines.map((line) => `<line>${line}</line>`).join('')}</b>`)).toEqual([
      '/b[1]/line[1] driver-setting dev.igb.0.fc',
      '/b[1]/line[2] driver-setting hw.igb.num_queues',
      '/b[1]/line[3] console console speed 19200',
      '/b[1]/line[5] console console=ttyS0,115200',
    ]);
  });

  test('records that an attribute or a title calls so, without a value that tells', () => {
    const branch = (name: string, inside: string) => `<branch name="${name}">${inside}</branch>`;
    const value = (name: string, text: string) => `<value name="${name}">${text}</value>`;
    const boot = branch('boot', value('image', 'slot-b') + value('delay', '3'));
    const about = value('title', 'kq-gw1') + value('serial', '0417-AC-99120');
    const segment = (name: string, at: number) =>
      branch(name, value('address', `10.20.${at}.1`) + value('length', '24') + value('note', `berth ${name}`));
    const segments = branch('segments', ['office', 'tills', 'quay', 'yard'].map(segment).join(''));
    expect(boundIn(`<r>${branch('machine', about + boot)}${branch('network', segments)}</r>`)).toEqual([
      '/r[1]/branch[1]/value[2] serial-number 0417-AC-99120',
      '/r[1]/branch[1]/branch[1] boot boot',
    ]);
    const object = (title: string, inside: string) => `<object><title>${title}</title>${inside}</object>`;
    const slot = '<slot>1</slot><wait>4</wait>';
    expect(
      boundIn(`<r><a>${object('boot loader', slot)}${object('page', slot)}${object('boot', slot)}</a></r>`),
    ).toEqual(['/r[1]/a[1]/object[1] boot boot loader']);
  });

  test('rows of a table of settings that name the console or a serial number; no table that is called so', () => {
    const rows = [
      ['host_name', 'kq-quay'],
      ['console_speed', '115200'],
      ['console.line', 'ttyS0'],
      ['seriennummer', 'KQ-19-004471'],
      ['page_port', '19200'],
    ];
    const cells = rows.map(([name, value], at) => `<r><i>${at}</i><t>${name}</t><t>${value}</t></r>`);
    expect(boundIn(`<b><s>${cells.join('')}</s></b>`)).toEqual([
      '/b[1]/s[1]/r[2] console console_speed',
      '/b[1]/s[1]/r[3] console console.line',
      '/b[1]/s[1]/r[4] serial-number KQ-19-004471',
    ]);
    const columns = rows.map(
      ([name, value]) => `<r><c n="name">${name}</c><c n="value">${value}</c><c n="at">x</c></r>`,
    );
    expect(boundIn(`<b><s>${columns.join('')}</s></b>`)).toHaveLength(3);
    const table = '<t name="serial-console"><r><speed>9600</speed><parity>none</parity></r></t>';
    expect(boundIn(`<b>${table}<t name="x"><r/></t></b>`)).toEqual([expect.stringContaining('/r[1] console')]);
  });

  test('an element that is a record which others call by its tag is no console', () => {
    const xml =
      '<b><calls><console-in>tcp 22</console-in><web>tcp 443</web></calls><rule><on>console-in</on></rule></b>';
    expect(boundIn(xml)).toHaveLength(1);
    expect(boundIn(xml, { refs: [{ at: '/b[1]/rule[1]/on[1]', value: 'console-in' }] })).toEqual([]);
  });

  test('as tags, in a section called boot', () => {
    const tags = names.map((name) => `<${name}>2</${name}>`).join('');
    expect(boundIn(`<b><boot-variables>${tags}</boot-variables></b>`)).toEqual(
      bound.map((at) => `/b[1]/boot-variables[1]/${names[at - 1]}[1] driver-setting ${names[at - 1]}`),
    );
  });

  test('at the end of longer keys', () => {
    const lines = names.map((name) => `<p k="machine/tunables/${name}">2</p>`).join('');
    expect(boundIn(`<b>${lines}</b>`)).toEqual(bound.map((at) => `/b[1]/p[${at}] driver-setting ${names[at - 1]}`));
  });

  test('a host name and a remark are none', () => {
    expect(
      boundIn(
        '<b><r><h>dev.marina.example</h><n>1</n></r><r><h>hw.quay.example</h><n>see hw.igb.num_queues there</n></r></b>',
      ),
    ).toEqual([]);
  });
});

describe('console and boot', () => {
  test('by what only they hold, names unknown', () => {
    expect(
      boundIn('<b><g><h>quay-gw</h><d>kestrelquay.example</d><q><f1>115200</f1><f2>none</f2></q></g></b>'),
    ).toEqual(['/b[1]/g[1]/q[1] console 115200']);
    expect(boundIn('<b><g><h>quay-gw</h><z><f1>3</f1><f2>/dev/ada0</f2></z></g></b>')).toEqual([
      '/b[1]/g[1]/z[1] boot /dev/ada0',
    ]);
  });

  test('the leaf alone where its record holds more than the machine', () => {
    expect(
      boundIn('<b><general><host>quay-gw</host><dns>192.0.2.53</dns><console-speed>9600</console-speed></general></b>'),
    ).toEqual(['/b[1]/general[1]/console-speed[1] console 9600']);
  });

  test('by name', () => {
    expect(boundIn('<b><general><serial-console enabled="yes"/></general><x><dns>192.0.2.53</dns></x></b>')).toEqual([
      '/b[1]/general[1]/serial-console[1] console serial-console',
    ]);
  });

  test('numbers that speak of something else are none', () => {
    expect(
      boundIn('<b><t><lifetime>57600</lifetime><mtu>9600</mtu></t><g><port>38400</port><ip>10.20.0.1</ip></g></b>'),
    ).toEqual([]);
    const speeds = Array.from({ length: 6 }, (_, at) => `<p><n>igb${at}</n><speed>115200</speed></p>`).join('');
    expect(boundIn(`<b>${speeds}</b>`)).toEqual([]);
  });
});

describe('hardware addresses', () => {
  const role = (at: number, mac = '') =>
    `<r><n>role${at}</n><dev>igb${at}</dev><ip>10.20.${at}.1</ip><len>24</len><note>Role ${at}</note>${mac}</r>`;
  const lease = (at: number) => `<l><hw>00:00:5e:00:53:0${at}</hw><ip>10.20.0.2${at}</ip><h>dev${at}</h></l>`;
  const xml = `<b><roles>${role(0, '<hw>00:00:5e:00:53:10</hw>')}${role(1)}${role(2)}</roles><pool>${lease(1)}${lease(2)}${lease(3)}</pool></b>`;

  test('one set on a port, not those of clients', () => {
    const ports = [0, 1, 2].map((at) => ({ at: `/b[1]/roles[1]/r[${at + 1}]/dev[1]`, value: `igb${at}` }));
    const wanted = ['/b[1]/roles[1]/r[1]/hw[1] hardware-address 00:00:5e:00:53:10'];
    expect(boundIn(xml, { ports })).toEqual(wanted);
    // Few records of the kind have one: enough where the port is named elsewhere.
    expect(boundIn(xml)).toEqual(wanted);
  });

  test('none of clients, also where what is around them names the port that they are behind', () => {
    const range = (at: number, lease: string) =>
      `<range port="igb${at}" from="10.20.${at}.100" to="10.20.${at}.180">${lease}</range>`;
    const kept = (at: number) => `<kept hw="00:00:5e:00:53:0${at}" ip="10.20.${at}.5"/>`;
    const ports = [1, 2, 3].map((at) => ({ at: `/b[1]/range[${at}]/@port`, value: `igb${at}` }));
    expect(boundIn(`<b>${range(1, kept(1))}${range(2, '')}${range(3, kept(3))}</b>`, { ports })).toEqual([]);
  });

  test('of ports that nothing else names, told by their numbered names', () => {
    const port = (at: number) => `<p><n>P${at}</n><a>00:00:5e:00:53:1${at}</a><s>1000</s></p>`;
    expect(boundIn(`<b>${port(1)}${port(2)}${port(3)}</b>`)).toHaveLength(3);
    const client = (at: number) => `<p><n>dev${at}</n><a>00:00:5e:00:53:1${at}</a><ip>10.20.0.${at}</ip></p>`;
    expect(boundIn(`<b>${client(1)}${client(2)}${client(3)}</b>`)).toEqual([]);
  });

  test('without marks, told from ids by a prefix that several share', () => {
    const card = (at: number) => `<c><n>igb${at}</n><a>00005E00530${at}</a></c>`;
    const ports = [1, 2, 3].map((at) => ({ at: `/b[1]/c[${at}]/n[1]`, value: `igb${at}` }));
    expect(boundIn(`<b>${card(1)}${card(2)}${card(3)}</b>`, { ports })).toHaveLength(3);
    const ids = ['9f3a5c771b20', 'c04411aa9e3d', '1e7755b1c2f8']
      .map((id, at) => `<c><n>igb${at + 1}</n><a>${id}</a></c>`)
      .join('');
    expect(boundIn(`<b>${ids}</b>`, { ports })).toEqual([]);
  });
});

test('serial numbers and licences', () => {
  expect(
    boundIn(
      '<b><g><h>quay-gw</h><serial-number>kq-2291-b</serial-number></g><x><f>QKR7-TT3H-9WXA</f><ip>10.20.0.1</ip></x></b>',
    ),
  ).toEqual(['/b[1]/g[1]/serial-number[1] serial-number kq-2291-b', '/b[1]/x[1]/f[1] licence QKR7-TT3H-9WXA']);
});

test('serial numbers by which records are named are those of no machine, and no serial line', () => {
  const crews = ['e4251ecc3762f', '3b15cef25a215'].map(
    (no) => `<crew><serial.no>${no}</serial.no><name>crew ${no[0]}</name></crew>`,
  );
  const gate = '<gate><of>e4251ecc3762f</of><port>1194</port></gate>';
  const refs = [{ at: '/b[1]/gate[1]/of[1]', value: 'e4251ecc3762f' }];
  expect(boundIn(`<b>${crews.join('')}${gate}</b>`, { refs })).toEqual([]);
});

test('several hardware addresses on one port are of those behind it', () => {
  const ports = [0, 1].map((at) => `<port name="vtnet${at}" mac="00:00:5e:00:53:0${at}"/>`);
  const fixed = [1, 2, 3].map(
    (at) => `<fixed on="vtnet${at % 2}" mac="00:00:5e:00:53:1${at}" ip="10.20.1.${at}" note="till ${at}"/>`,
  );
  const at = [
    ...[1, 2].map((no) => `/box[1]/ports[1]/port[${no}]/@name`),
    ...[1, 2, 3].map((no) => `/box[1]/all[1]/fixed[${no}]/@on`),
  ];
  const known = { ports: at.map((path) => ({ at: path, value: '' })) };
  expect(boundIn(`<box><ports>${ports.join('')}</ports><all>${fixed.join('')}</all></box>`, known)).toEqual([
    '/box[1]/ports[1]/port[1]/@mac hardware-address 00:00:5e:00:53:00',
    '/box[1]/ports[1]/port[2]/@mac hardware-address 00:00:5e:00:53:01',
  ]);
});

test('numbered names of other records do not make a record a port', () => {
  const hosts = [1, 2].map((at) => `<host name="till-${at}" ip="10.20.1.${at}"/>`);
  const fixed = [1, 2].map((at) => `<fixed><mac>00:00:5e:00:53:1${at}</mac><to>till-${at}</to></fixed>`);
  const known = { refs: [1, 2].map((no) => ({ at: `/box[1]/all[1]/fixed[${no}]/to[1]`, value: `till-${no}` })) };
  expect(boundIn(`<box><hosts>${hosts.join('')}</hosts><all>${fixed.join('')}</all></box>`, known)).toEqual([]);
});

test('of a record about other things only what is named for the console is bound to the box', () => {
  const general = '<general name="quay-gw" zone="Europe/Dublin" console="9600"/>';
  const unit = '<unit><name>quay-gw</name><zone>Europe/Dublin</zone><console speed="38400"/></unit>';
  const line = '<line><port>ttyS0</port><console>115200</console></line>';
  const bound = (text: string) => boundIn(`<box>${text}<nets><net ip="10.20.1.1"/><net ip="10.20.2.1"/></nets></box>`);
  expect(bound(general)).toEqual(['/box[1]/general[1]/@console console 9600']);
  expect(bound(unit)).toEqual(['/box[1]/unit[1]/console[1] console 38400']);
  expect(bound(line)).toEqual(['/box[1]/line[1] console ttyS0']);
});

test('a record that says with a dot which line its speed is of is the console: it is no host', () => {
  const block = (dev: string) => `<block><set id="dev">${dev}</set><set id="speed">auto</set></block>`;
  const table = `<relation id="jacks">${['em0', 'em1', 'em2'].map(block).join('')}</relation>`;
  const line = '<block id="serial.line"><set id="bps">115200</set></block>';
  expect(boundIn(`<box>${table}${line}</box>`)).toEqual(['/box[1]/block[1] console 115200']);
});

test('ports that are counted in the keys of a flat list are no devices of drivers', () => {
  const line = (key: string, value: string) => `<p k="${key}">${value}</p>`;
  const ports = [1, 2, 3].flatMap((no) => [line(`net.dev.${no}.rate`, 'auto'), line(`net.dev.${no}.text`, 'rack')]);
  const tunables = [line('box.set.dev.igb.0.fc', '0'), line('box.set.hw.pci.enable_msix', '1')];
  expect(boundIn(`<b>${[...ports, ...tunables].join('')}</b>`)).toEqual([
    '/b[1]/p[7] driver-setting dev.igb.0.fc',
    '/b[1]/p[8] driver-setting hw.pci.enable_msix',
  ]);
});

test('the rate of each port is no console', () => {
  const port = (no: number) => `<port><name>igb${no}</name><baud>auto</baud></port>`;
  const wrapped = (no: number) => `<port><data><name>igb${no}</name><baud><value>auto</value></baud></data></port>`;
  for (const one of [port, wrapped])
    expect(boundIn(`<b><ports>${[0, 1].map(one).join('')}</ports><line><baud>9600</baud></line></b>`)).toEqual([
      '/b[1]/line[1] console 9600',
    ]);
});

/** Two backups of an invented marina, loaded only when one is chosen. */
export const examples = [
  {
    file: 'kestrel-quay-netconf.xml',
    load: () => import('../../public/examples/kestrel-quay-netconf.xml?raw'),
  },
  {
    file: 'kestrel-quay-plain.xml',
    load: () => import('../../public/examples/kestrel-quay-plain.xml?raw'),
  },
] as const;

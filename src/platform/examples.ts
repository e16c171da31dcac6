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

/** What a worker practises on. */
export const practiceText = (): Promise<string> => examples[1].load().then((module) => module.default);

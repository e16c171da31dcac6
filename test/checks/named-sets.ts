export const sets = ['crew', 'recorder', 'tills', 'bank', 'desks', 'cranes', 'pumps', 'lamps', 'masts'];

/** A small box: sets with one host each, and rules that name them. */
export const namedSets = (names: readonly string[], rules: readonly string[]): string => `<box>
<sets>
${names.map((name, at) => `<set><name>${name}</name><host>10.20.0.${at + 10}</host></set>`).join('\n')}
</sets>
<rules>
${rules.map((name) => `<rule><do>pass</do><from>${name}</from></rule>`).join('\n')}
</rules>
</box>
`;

/**
 * The stages of the job in the order of the work. Navigation, routes, command help and the folders
 * of every package are built from, or checked against, this list.
 */
export const stages = [
  { name: 'fitment', question: 'Does the pack fit, and does it suit?' },
  { name: 'probes', question: 'Can the readings be trusted?' },
  { name: 'runs', question: 'What did the bench measure?' },
  { name: 'compare', question: 'Is the better one really better?' },
  { name: 'heat', question: 'What would an untried set-up do?' },
  { name: 'life', question: 'What does the heat cost?' },
  { name: 'make', question: 'How is it cut and fitted?' },
  { name: 'commission', question: 'Is the pack what it claims to be?' },
  { name: 'watch', question: 'Does it stay healthy?' },
  { name: 'verdict', question: 'Which set-up, why, and what would change it?' },
  { name: 'dossier', question: 'Can others trust and repeat it?' },
] as const;

export type StageName = (typeof stages)[number]['name'];

/** The stages this version can carry out; the others are shown as not yet built, never as empty pages. */
export const builtStages: readonly StageName[] = [
  'probes',
  'runs',
  'compare',
  'heat',
  'life',
  'verdict',
  'dossier',
];

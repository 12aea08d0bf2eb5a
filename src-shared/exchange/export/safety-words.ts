/** Wording every paper of ours carries. */

/** Stands in every footer and on every sheet. */
export const planningAidSentence =
  'Planning aid. Not a substitute for design and approval by a licensed engineer/electrician under locally adopted code. Check values and limits before use.';

export const editionNote =
  'Code clauses are given from memory as the basis of each limit: verify in the adopted edition.';

export const cautions: readonly string[] = [
  'Isolate, lock and prove dead before unplugging or plugging anything. Do not break under load unless the parts are listed for it. Cap terminators and unused taps.',
  'Do not energise until continuity and insulation tests are signed.',
  'Insulation test: disconnect drivers and surge parts or follow the maker; a 500 V test can destroy electronics.',
  'Data off is not power off. A dark fixture is not a dead fixture.',
  'Ground-fault and residual-current protection, pools and fountains, wet locations, egress lighting and voltages in dwellings: the engineer of record decides. Nothing here closes these.',
  'Plugs within public reach need a guard, conduit or a box. Mind damage by fire, façade work, birds and gardening where it applies.',
  'While a wrong-voltage stop is open this workbook is for review only, not for construction.',
];

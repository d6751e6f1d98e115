/** What animals die of, as the trade tells it apart. */
export const LOSS_CAUSES = [
  'bad_moult',
  'eaten_by_sibling',
  'eaten_by_mate',
  'drowned',
  'dried_out',
  'starved',
  'fell',
  'hurt_by_prey',
  'heat',
  'cold',
  'parasite',
  'transit',
  'old_age',
  'killed',
  'unknown',
] as const
export type LossCause = (typeof LOSS_CAUSES)[number]

export const LOSS_CAUSE_WORDS: Record<LossCause, string> = {
  bad_moult: 'Bad moult',
  eaten_by_sibling: 'Eaten by a sibling',
  eaten_by_mate: 'Eaten by its mate',
  drowned: 'Drowned',
  dried_out: 'Dried out',
  starved: 'Starved',
  fell: 'Fell',
  hurt_by_prey: 'Hurt by prey',
  heat: 'Too hot',
  cold: 'Too cold',
  parasite: 'Parasite',
  transit: 'In transit',
  old_age: 'Old age',
  killed: 'Killed',
  unknown: 'Not known',
}

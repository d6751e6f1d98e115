import type { PlainDate } from '@/lib/domain/calendar/date'
import { type Doubt, sayDoubt } from '@/lib/domain/growth/doubt'
import { type InstarNaming, instarLabel } from '@/lib/domain/instar/label'

/** A date that looks wrong, in words, with what one tap would change. */
export type ShownDoubt = {
  animalId: string
  label: string
  scientificName: string
  moultId: string
  version: number
  on: PlainDate
  likelyOn: PlainDate | null
  sentence: string
}

type Doubtful = Doubt & Pick<ShownDoubt, 'label' | 'scientificName' | 'moultId' | 'version'>

export function presentDoubt(
  doubt: Doubtful,
  { naming, today }: { naming: InstarNaming; today: PlainDate },
): ShownDoubt {
  const { animalId, label, scientificName, moultId, version, on, likelyOn } = doubt
  const sentence = sayDoubt(doubt, instarLabel(doubt.moults, naming, { isAdult: false }), today)
  return { animalId, label, scientificName, moultId, version, on, likelyOn, sentence }
}

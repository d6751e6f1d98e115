import type { PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { type DevelopmentClock, dateAfterEffectiveDays } from '../development/clock'

/**
 * The ladder of reminders for an egg case that has not hatched: the window opens at 80 % of the typical
 * incubation, it is overdue at 150 % and doubtful at 250 %, all counted in effective days (default of the
 * trade). Species that may need a cold rest are never called doubtful: they may only be waiting for it.
 */
export type HatchReminder = {
  state: 'expected' | 'open' | 'overdue' | 'doubtful'
  opensOn: PlainDate | null
  overdueOn: PlainDate | null
  doubtfulOn: PlainDate | null
}

const OPENS_AT = 0.8
const OVERDUE_AT = 1.5
const DOUBTFUL_AT = 2.5

export function hatchReminder(input: {
  profile: CareProfile
  clock: DevelopmentClock
  countedFrom: PlainDate
  typicalEffectiveDays: number
  today: PlainDate
}): HatchReminder {
  const after = (share: number) =>
    dateAfterEffectiveDays(input.clock, input.countedFrom, share * input.typicalEffectiveDays)
  const mayRest = input.profile.hatch.coldRest.value.need !== 'none'
  const opensOn = after(OPENS_AT)
  const overdueOn = after(OVERDUE_AT)
  const doubtfulOn = mayRest ? null : after(DOUBTFUL_AT)
  const hasCome = (date: PlainDate | null) => date !== null && date <= input.today
  let state: HatchReminder['state'] = 'expected'
  if (hasCome(opensOn)) state = 'open'
  if (hasCome(overdueOn)) state = 'overdue'
  if (hasCome(doubtfulOn)) state = 'doubtful'
  return { state, opensOn, overdueOn, doubtfulOn }
}

import { addDays, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'

/**
 * After a moult the skin has to harden: no handling, no live prey, no dispatch. Returns the first day on
 * which the animal may be handled again (2 days after a nymphal, 6 after the final moult by default).
 */
export function hardeningUntil(
  profile: CareProfile,
  moult: { lastMoultOn: PlainDate; isFinal: boolean },
): PlainDate {
  const { nymph, adult } = profile.handling.hardeningDays.value
  return addDays(moult.lastMoultOn, Math.ceil(moult.isFinal ? adult : nymph))
}

/** Is the animal still soft today? The day of the moult counts, the day it ends does not. */
export function isHardening(
  profile: CareProfile,
  moult: { lastMoultOn: PlainDate; isFinal: boolean; today: PlainDate },
): boolean {
  return moult.today >= moult.lastMoultOn && moult.today < hardeningUntil(profile, moult)
}

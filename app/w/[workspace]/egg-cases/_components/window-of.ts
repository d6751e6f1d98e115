import type { HatchWindow } from '@/components/hatch/hatch-window-axis'
import { sayHatchState } from '@/lib/domain/hatch/wording'
import type { EggCaseView } from '@/lib/features/egg-case/loaders'

/** The bar of an egg case on the axis of days; none for those without a window or whose hatch has begun. */
export function listWindows({ row, species, forecast }: EggCaseView): HatchWindow[] {
  if (forecast?.status !== 'forecast' || row.hatches.length > 0) return []
  const { restStartOn } = row
  const restEnd = row.restEndedOn ?? row.restPlannedEndOn
  const coldRest =
    restStartOn && restEnd ? { from: restStartOn, until: restEnd, isPlanned: row.restEndedOn === null } : null
  const { p10, p50, p90 } = forecast
  return [
    {
      code: row.label,
      scientificName: species.scientificName,
      warmSince: row.laidOn ?? row.laidUntil ?? row.receivedOn,
      coldRest,
      window: { p10, p50, p90 },
      chance: forecast.chanceStillHatches,
      nymphs: forecast.expectedNymphs,
      overdueOn: forecast.reminder.overdueOn,
      ...sayHatchState(forecast, false),
    },
  ]
}

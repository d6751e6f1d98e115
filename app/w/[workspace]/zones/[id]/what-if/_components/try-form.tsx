import { Button } from '@/components/ui/button'
import { NumberField } from '@/components/ui/number-field'
import { type TemperatureUnit, temperatureFigure, UNIT_SIGN } from '@/lib/domain/zone/temperature-unit'

type Props = {
  workspace: string
  zoneId: string
  tried: { dayC: number; nightC: number | null }
  unit: TemperatureUnit
}

/** A plain form that asks for another address: it works before any script has loaded. */
export function TryForm({ workspace, zoneId, tried, unit }: Props) {
  return (
    <form
      key={`${tried.dayC} ${tried.nightC}`}
      action={`/w/${workspace}/zones/${zoneId}/what-if`}
      className="no-print mb-4 flex flex-wrap items-end gap-4 border-line border-b py-4"
    >
      <NumberField
        name="day"
        label="By day"
        unit={UNIT_SIGN[unit]}
        defaultValue={temperatureFigure(tried.dayC, unit)}
      />
      <NumberField
        name="night"
        label="By night"
        isOptional
        unit={UNIT_SIGN[unit]}
        defaultValue={tried.nightC === null ? '' : temperatureFigure(tried.nightC, unit)}
      />
      <Button type="submit">Try it</Button>
    </form>
  )
}

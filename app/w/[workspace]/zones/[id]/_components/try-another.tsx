import { LinkButton } from '@/components/ui/link-button'
import {
  type TemperatureUnit,
  temperatureFigure,
  writeTemperatureChange,
} from '@/lib/domain/zone/temperature-unit'
import type { SetPoint } from '@/lib/features/zone/data'

type Props = { workspace: string; zoneId: string; inForce: SetPoint | undefined; unit: TemperatureUnit }

const STEPS_C = [2, -2]

/** The way to what another temperature would do, before anybody turns a dial. */
export function TryAnother({ workspace, zoneId, inForce, unit }: Props) {
  if (!inForce) return null
  const address = (byC: number) => {
    const { dayC, nightC } = inForce
    const night = nightC === null ? '' : `&night=${temperatureFigure(nightC + byC, unit)}`
    return `/w/${workspace}/zones/${zoneId}/what-if?day=${temperatureFigure(dayC + byC, unit)}${night}`
  }
  return (
    <section>
      <h2 className="mb-2">Another temperature</h2>
      <p className="mb-3 text-soft">
        See how the coming moults, hatches and separations would move, before you turn a dial.
      </p>
      <div className="flex flex-wrap gap-3">
        {STEPS_C.map((byC) => (
          <LinkButton key={byC} href={address(byC)} prefetch={false}>
            What would {writeTemperatureChange(byC, unit)} do?
          </LinkButton>
        ))}
      </div>
    </section>
  )
}

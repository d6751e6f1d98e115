'use client'

import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import { wallClock } from '@/lib/domain/calendar/instant'
import { writeCount } from '@/lib/domain/calendar/wording'
import type { NewReading } from '@/lib/domain/zone/reading-check'
import type { ReadingText } from '@/lib/domain/zone/reading-text'
import { type TemperatureUnit, UNIT_SIGN, writeTemperature } from '@/lib/domain/zone/temperature-unit'

type Props = {
  read: ReadingText
  timeZone: string
  unit: TemperatureUnit
  /** Reads the same text again, its figures in another unit. */
  onReadAs: (unit: TemperatureUnit) => void
  /** They are in this unit, however odd. */
  onStand: () => void
}

const LINES_SHOWN = 12

/** What was understood of a pasted text, before anything is kept. */
export function PastePreview({ read, timeZone, unit, onReadAs, onStand }: Props) {
  const { readings, bad, slips } = read
  if (slips > 0) return <OtherUnit {...{ slips, unit, onReadAs, onStand }} />
  if (bad.length > 0)
    return (
      <Notice
        state="late"
        isAnnounced
        what={`${writeCount(bad.length, 'line')} cannot be taken. Nothing was kept.`}
        why={
          <ol className="mt-1 space-y-1 text-ink">
            {bad.slice(0, LINES_SHOWN).map(({ line, text, message }) => (
              <li key={`${line} ${message}`}>
                {line > 0 ? <strong>Line {line}</strong> : null} {text ? <code>{text}</code> : null}
                <span className="block">{message}</span>
              </li>
            ))}
          </ol>
        }
        next={
          bad.length > LINES_SHOWN
            ? `And ${bad.length - LINES_SHOWN} more. Mend these and read it again.`
            : 'Mend them above and read it again.'
        }
      />
    )
  if (readings.length === 0) return <Notice state="late" isAnnounced what="There is no reading in it." />
  return <Understood readings={readings} timeZone={timeZone} unit={unit} />
}

type OtherUnitProps = Pick<Props, 'unit' | 'onReadAs' | 'onStand'> & { slips: number }

function OtherUnit({ slips, unit, onReadAs, onStand }: OtherUnitProps) {
  const other = unit === 'celsius' ? 'fahrenheit' : 'celsius'
  return (
    <Notice
      state="due"
      isAnnounced
      what={`${writeCount(slips, 'figure')} look${slips === 1 ? 's' : ''} like ${UNIT_SIGN[other]}.`}
      why={`Taken in ${UNIT_SIGN[unit]} they would be far from what the zone is set to.`}
      next={
        <span className="flex flex-wrap gap-2">
          <Button onClick={() => onReadAs(other)}>Read them in {UNIT_SIGN[other]}</Button>
          <Button kind="quiet" onClick={onStand}>
            They are in {UNIT_SIGN[unit]}
          </Button>
        </span>
      }
    />
  )
}

function Understood({
  readings,
  timeZone,
  unit,
}: Pick<Props, 'timeZone' | 'unit'> & { readings: NewReading[] }) {
  const temperaturesC = readings.map(({ temperatureC }) => temperatureC)
  const [lowest, highest] = [Math.min(...temperaturesC), Math.max(...temperaturesC)]
  const shown = readings.length > 4 ? [...readings.slice(0, 2), null, ...readings.slice(-2)] : readings
  return (
    <Notice
      state="fine"
      isAnnounced
      what={`${writeCount(readings.length, 'reading')}, ${writeTemperature(lowest, unit)} to ${writeTemperature(highest, unit)}.`}
      why={
        <ul className="mt-1">
          {shown.map((reading) =>
            reading === null ? (
              <li key="between">… {readings.length - 4} more …</li>
            ) : (
              <li key={reading.atMs}>{sayReading(reading, timeZone, unit)}</li>
            ),
          )}
        </ul>
      }
    />
  )
}

function sayReading(
  { atMs, temperatureC, humidityPct }: NewReading,
  timeZone: string,
  unit: TemperatureUnit,
) {
  const { on, time } = wallClock(atMs, timeZone)
  const humidity = humidityPct === null || humidityPct === undefined ? '' : `, ${humidityPct} %`
  return `${on} ${time}: ${writeTemperature(temperatureC, unit)}${humidity}`
}

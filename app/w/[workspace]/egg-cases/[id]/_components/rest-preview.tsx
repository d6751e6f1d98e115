'use client'

import { useWatch } from 'react-hook-form'
import { isPlainDate } from '@/lib/domain/calendar/date'
import { forecastHatch, type HatchInput } from '@/lib/domain/hatch/forecast'
import { sayRestEffect } from '@/lib/domain/hatch/rest-effect'

/** What the days as they stand in the form would do to the window, before anything is saved. */
export function RestPreview({ input }: { input: HatchInput }) {
  const [startOn, plannedEndOn, endedOn]: unknown[] = useWatch({
    name: ['startOn', 'plannedEndOn', 'endedOn'],
  })
  const startedOn = dayOf(startOn)
  if (!startedOn) return null
  const coldRest = { startedOn, plannedEndOn: dayOf(plannedEndOn), endedOn: dayOf(endedOn) }
  const [before, after] = [input, { ...input, coldRest }].map(forecastHatch)
  if (!before || !after) return null
  return (
    <p className="border-line border-s-4 ps-3 text-small" aria-live="polite">
      {sayRestEffect(before, after, input.today)}
    </p>
  )
}

function dayOf(typed: unknown): string | null {
  return isPlainDate(typed) ? typed : null
}

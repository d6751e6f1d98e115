import type { HatchForecast } from './forecast'

export type HatchState = { state: 'due' | 'fine'; word: string }

/** How an egg case stands, as a mark and its word. */
export function sayHatchState(forecast: HatchForecast | null, hasHatched: boolean): HatchState {
  if (hasHatched) return { state: 'fine', word: 'hatching' }
  if (!forecast) return { state: 'fine', word: 'no forecast' }
  if (forecast.status === 'resting') return { state: 'fine', word: 'cold rest' }
  if (forecast.status === 'too-cold') return { state: 'fine', word: 'too cold to develop' }
  const { state } = forecast.reminder
  if (state === 'open') return { state: 'due', word: 'may hatch now' }
  return state === 'expected' ? { state: 'fine', word: 'expected' } : { state: 'due', word: state }
}

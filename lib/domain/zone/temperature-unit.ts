/** Temperatures are kept in °C; a workspace may read and type them in °F. */
export type TemperatureUnit = 'celsius' | 'fahrenheit'

export const UNIT_SIGN: Record<TemperatureUnit, string> = { celsius: '°C', fahrenheit: '°F' }

export function toFahrenheit(temperatureC: number): number {
  return temperatureC * 1.8 + 32
}

export function toCelsius(temperatureF: number): number {
  return (temperatureF - 32) / 1.8
}

/** A figure typed in a unit, in °C. */
export function readTemperature(figure: number, unit: TemperatureUnit): number {
  return unit === 'celsius' ? figure : toCelsius(figure)
}

/** The figure alone, in a unit, to a tenth: 26.4. */
export function temperatureFigure(temperatureC: number, unit: TemperatureUnit): number {
  const figure = unit === 'celsius' ? temperatureC : toFahrenheit(temperatureC)
  return Math.round(figure * 10) / 10
}

/** "26.4 °C", "79.5 °F". */
export function writeTemperature(temperatureC: number, unit: TemperatureUnit): string {
  return `${temperatureFigure(temperatureC, unit)} ${UNIT_SIGN[unit]}`.replace('-', '−')
}

/** A difference between two temperatures: "+2 °C", "−3.6 °F". */
export function writeTemperatureChange(byC: number, unit: TemperatureUnit): string {
  const figure = Math.round((unit === 'celsius' ? byC : byC * 1.8) * 10) / 10
  return `${figure > 0 ? '+' : figure < 0 ? '−' : '±'}${Math.abs(figure)} ${UNIT_SIGN[unit]}`
}

/** A figure in the other unit than it was taken for, and what it then is in °C. */
export type UnitSlip = {
  figure: number
  takenFor: TemperatureUnit
  meant: TemperatureUnit
  temperatureC: number
}

/** °C above which a figure is asked about: warmer than that no zone is kept, whatever a sensor in the sun says. */
const ASK_ABOVE_C = 45
/** °C below which a figure typed as °F is asked about. */
const ASK_BELOW_C = 5
/** How near the other reading of a figure has to come to what the zone is set to. */
const NEAR_C = 9

/**
 * Whether a figure was probably read off in the other unit: 78 typed as °C for a zone set to 26 °C is 25.6 °C, and 26
 * typed as °F is 26 °C. Null where the figure is possible as it stands, or no better the other way round.
 */
export function unitSlip(
  figure: number,
  takenFor: TemperatureUnit,
  setC: number | null | undefined,
): UnitSlip | null {
  if (setC === null || setC === undefined) return null
  const isOdd = takenFor === 'celsius' ? figure > ASK_ABOVE_C : toCelsius(figure) < ASK_BELOW_C
  if (!isOdd || Math.abs(readTemperature(figure, takenFor) - setC) <= NEAR_C) return null
  const meant = takenFor === 'celsius' ? 'fahrenheit' : 'celsius'
  const temperatureC = readTemperature(figure, meant)
  return Math.abs(temperatureC - setC) <= NEAR_C ? { figure, takenFor, meant, temperatureC } : null
}

/** "78 °C? In °F that would be 25.6 °C." */
export function sayUnitSlip({ figure, takenFor, meant, temperatureC }: UnitSlip): string {
  return `${figure} ${UNIT_SIGN[takenFor]}? Read in ${UNIT_SIGN[meant]} it would be ${writeTemperature(temperatureC, takenFor)}.`
}

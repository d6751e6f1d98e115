import type { Language } from '@/lib/messages/language'

/** How a document writes dates, lengths and temperatures. The values themselves are always °C, mm, plain dates. */
export type Units = { temperature: 'celsius' | 'fahrenheit'; length: 'millimetre' | 'inch' }

export type Wording = { language: Language; locale: string; units: Units }

/** Letter paper means North America, where the month comes first in English; elsewhere the day does. */
export function wordingFor(language: Language, units: Units, paper: string): Wording {
  const locale = language === 'en' ? (paper === 'letter' ? 'en-US' : 'en-GB') : language
  return { language, locale, units }
}

const MM_PER_INCH = 25.4

/** "29 °C", "84 °F"; whole degrees, since no keeper's thermometer is better. */
export function temperatureText(celsius: number, wording: Wording): string {
  return unbroken(temperatureFormat(wording).format(inUnit(celsius, wording)))
}

export function temperatureRangeText(range: { min: number; max: number }, wording: Wording): string {
  // A range of one value would be written as "about".
  if (range.min === range.max) return temperatureText(range.min, wording)
  const format = temperatureFormat(wording)
  return unbroken(format.formatRange(inUnit(range.min, wording), inUnit(range.max, wording)))
}

/** An animal's length: millimetres, or inches to a tenth. */
export function bodyLengthText(lengthMm: number, wording: Wording): string {
  if (wording.units.length === 'inch') return unitText(lengthMm / MM_PER_INCH, ['inch', 1], wording)
  return unitText(lengthMm, ['millimeter', lengthMm < 10 ? 1 : 0], wording)
}

/** A length that must at least be there: rounded up, to half a centimetre or half an inch. */
export function roomText(lengthMm: number, wording: Wording): string {
  if (wording.units.length === 'inch') return unitText(roundUp(lengthMm / MM_PER_INCH), ['inch', 1], wording)
  return unitText(roundUp(lengthMm / 10), ['centimeter', 1], wording)
}

export function rangeText(range: { min: number; max: number }, wording: Wording): string {
  const format = numberFormat({}, wording)
  return range.min === range.max ? format.format(range.min) : format.formatRange(range.min, range.max)
}

export function listText(items: string[], wording: Wording, type: 'conjunction' | 'disjunction'): string {
  return new Intl.ListFormat(wording.locale, { type }).format(items)
}

function temperatureFormat(wording: Wording): Intl.NumberFormat {
  const unit = wording.units.temperature
  return numberFormat({ style: 'unit', unit, maximumFractionDigits: 0 }, wording)
}

function inUnit(celsius: number, wording: Wording): number {
  return wording.units.temperature === 'fahrenheit' ? (celsius * 9) / 5 + 32 : celsius
}

/** The hundredth keeps a binary rounding error from adding half a centimetre. */
function roundUp(length: number): number {
  return Math.ceil(length * 2 - 0.01) / 2
}

function unitText(value: number, [unit, digits]: [string, number], wording: Wording): string {
  const style = { style: 'unit', unit, unitDisplay: 'short', maximumFractionDigits: digits } as const
  return unbroken(numberFormat(style, wording).format(value))
}

/** A number and its unit stay on one line. */
function unbroken(text: string): string {
  return text.replaceAll(' ', '\u00a0')
}

const formats = new Map<string, Intl.NumberFormat>()

/** Kept, because making one takes longer than setting a line of type. */
function numberFormat(style: Intl.NumberFormatOptions, { locale }: Wording): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(style)}`
  const format = formats.get(key) ?? new Intl.NumberFormat(locale, style)
  formats.set(key, format)
  return format
}

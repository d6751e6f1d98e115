import { listCountryCodes } from './country'

type Choice = { value: string; label: string }

/** The same, for a field that may stay empty. */
export function listOptionalCountryChoices(): Choice[] {
  return [{ value: '', label: 'not said' }, ...listCountryChoices()]
}

/** Countries by their English name. */
export function listCountryChoices(): Choice[] {
  const names = new Intl.DisplayNames('en', { type: 'region' })
  return byLabel(listCountryCodes().map((value) => ({ value, label: names.of(value) ?? value })))
}

export function listTimeZoneChoices(): Choice[] {
  return ['UTC', ...Intl.supportedValuesOf('timeZone').filter((zone) => zone !== 'UTC')].map((value) => ({
    value,
    label: value.replaceAll('_', ' '),
  }))
}

export function listCurrencyChoices(): Choice[] {
  const names = new Intl.DisplayNames('en', { type: 'currency' })
  return Intl.supportedValuesOf('currency').map((value) => ({
    value,
    label: `${value} · ${names.of(value)}`,
  }))
}

function byLabel(choices: Choice[]): Choice[] {
  return choices.sort((a, b) => a.label.localeCompare(b.label, 'en'))
}

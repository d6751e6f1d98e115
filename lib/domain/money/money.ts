/** Money is a whole number of the currency's smallest coin: 1250 in EUR is twelve euros fifty. */

/** How many digits stand behind the point: 2 for the euro, 0 for the yen, 3 for the dinar. */
export function minorDigits(currency: string): number {
  return formatIn(currency, 'en').resolvedOptions().maximumFractionDigits ?? 2
}

/** A spoken price (12.5) as smallest coins (1250), rounded to a whole one. */
export function minorAmount(price: number, currency: string): number {
  return Math.round(price * 10 ** minorDigits(currency))
}

/** "€12.50" as the locale writes it. */
export function writeMoney(amountMinor: number, currency: string, locale: string): string {
  return formatIn(currency, locale).format(amountMinor / 10 ** minorDigits(currency))
}

/** A price as it is typed: 1250 in EUR is 12.5; nothing where there is none. */
export function spokenPrice(amountMinor: number | null, currency: string): number | '' {
  return amountMinor === null ? '' : amountMinor / 10 ** minorDigits(currency)
}

function formatIn(currency: string, locale: string): Intl.NumberFormat {
  return new Intl.NumberFormat(locale, { style: 'currency', currency })
}

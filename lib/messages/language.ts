/** The languages documents can be printed in. Each has one file beside this one. */
export const LANGUAGES = ['en', 'de', 'fr', 'es', 'nl'] as const

export type Language = (typeof LANGUAGES)[number]

export function isLanguage(text: unknown): text is Language {
  return LANGUAGES.some((language) => language === text)
}

/** The name of each language in itself, for a list to choose from. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = {
  en: 'English',
  de: 'Deutsch',
  fr: 'Français',
  es: 'Español',
  nl: 'Nederlands',
}

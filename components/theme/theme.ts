/** The choice of light lives in a cookie, so that the server can write it on <html> and no script has to. */
export const THEME_COOKIE = 'theme'

export const THEMES = ['day', 'night'] as const
export type Theme = (typeof THEMES)[number]

/** A cookie says whatever its sender likes: anything but the two words means "as the device has it". */
export function getTheme(cookieValue: string | undefined): Theme | undefined {
  return THEMES.find((theme) => theme === cookieValue)
}

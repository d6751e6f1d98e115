'use client'

import { useId, useState } from 'react'
import { THEME_COOKIE, type Theme } from './theme'

const ONE_YEAR_SECONDS = 60 * 60 * 24 * 365

const CHOICES: { theme: Theme | 'device'; label: string }[] = [
  { theme: 'day', label: 'Day' },
  { theme: 'night', label: 'Night' },
  { theme: 'device', label: 'Device' },
]

function keepTheme(theme: Theme | 'device') {
  const secure = window.location.protocol === 'https:' ? '; Secure' : ''
  if (theme === 'device') {
    delete document.documentElement.dataset.theme
    // biome-ignore lint/suspicious/noDocumentCookie: the cookie store is not in every browser on a shelf yet
    document.cookie = `${THEME_COOKIE}=; Path=/; Max-Age=0; SameSite=Lax${secure}`
    return
  }
  document.documentElement.dataset.theme = theme
  // biome-ignore lint/suspicious/noDocumentCookie: as above
  document.cookie = `${THEME_COOKIE}=${theme}; Path=/; Max-Age=${ONE_YEAR_SECONDS}; SameSite=Lax${secure}`
}

/** Day, night for the dark warm room, or what the device says. Takes effect at once and is remembered. */
export function ThemeChoice({ theme }: { theme: Theme | undefined }) {
  // It stands in the rail and in the sheet of a phone: two groups, or one would take the mark off the other.
  const group = useId()
  const [chosen, setChosen] = useState<Theme | 'device'>(theme ?? 'device')
  return (
    <fieldset className="flex items-center">
      <legend className="sr-only">Light</legend>
      {CHOICES.map((choice) => (
        <label
          key={choice.theme}
          className="target -ms-px relative flex cursor-pointer items-center justify-center border border-edge px-2 text-fine-print first-of-type:rounded-s-edge last-of-type:rounded-e-edge has-checked:z-10 has-checked:border-ink has-checked:bg-ink has-checked:font-semibold has-checked:text-sheet has-focus-visible:outline-3 has-focus-visible:outline-ink has-focus-visible:outline-offset-2"
        >
          <input
            type="radio"
            name={group}
            className="sr-only"
            checked={chosen === choice.theme}
            onChange={() => {
              keepTheme(choice.theme)
              setChosen(choice.theme)
            }}
          />
          {choice.label}
        </label>
      ))}
    </fieldset>
  )
}

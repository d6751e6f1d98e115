import type { Metadata, Viewport } from 'next'
import { cookies } from 'next/headers'
import type { ReactNode } from 'react'
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import '@fontsource-variable/literata/wght.css'
import '@fontsource-variable/literata/wght-italic.css'
import './globals.css'
import { Providers } from '@/components/shell/providers'
import { getTheme, THEME_COOKIE } from '@/components/theme/theme'

export const metadata: Metadata = {
  title: { default: 'Oothecary', template: '%s · Oothecary' },
  description: 'From egg case to handed-over animal: records and forecasts for mantis breeders and shops.',
  robots: { index: false, follow: false },
  formatDetection: { telephone: false, date: false, email: false, address: false },
}

const DAY_GROUND = '#eef0e9'
const NIGHT_GROUND = '#110e0a'

export async function generateViewport(): Promise<Viewport> {
  const theme = getTheme((await cookies()).get(THEME_COOKIE)?.value)
  const byDevice = [
    { media: '(prefers-color-scheme: light)', color: DAY_GROUND },
    { media: '(prefers-color-scheme: dark)', color: NIGHT_GROUND },
  ]
  return {
    width: 'device-width',
    initialScale: 1,
    viewportFit: 'cover',
    themeColor: theme ? (theme === 'day' ? DAY_GROUND : NIGHT_GROUND) : byDevice,
  }
}

/** Reading the cookie here makes every page dynamic, which the nonce of the script policy needs anyway. */
export default async function RootLayout({ children }: { children: ReactNode }) {
  const theme = getTheme((await cookies()).get(THEME_COOKIE)?.value)
  return (
    <html lang="en" data-theme={theme} suppressHydrationWarning>
      <body>
        <Providers>{children}</Providers>
      </body>
    </html>
  )
}

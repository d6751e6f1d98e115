'use client'

import { useRouter } from 'next/navigation'
import type { ReactNode } from 'react'
import { I18nProvider, RouterProvider } from 'react-aria-components'
import { Toaster } from 'sonner'

/** One language and one router for the interactive primitives, and the place where short messages appear. */
export function Providers({ children }: { children: ReactNode }) {
  const router = useRouter()
  return (
    <I18nProvider locale="en-GB">
      <RouterProvider navigate={(href) => router.push(href)}>{children}</RouterProvider>
      <Toaster
        position="top-center"
        offset={{ top: 16 }}
        mobileOffset={{ top: 12 }}
        toastOptions={{
          unstyled: true,
          duration: 8000,
          classNames: {
            toast:
              'flex w-full items-center gap-3 rounded-edge border border-ink bg-ink px-4 py-3 text-sheet font-plain',
            title: 'text-body',
            description: 'text-small',
            actionButton: 'target ms-auto rounded-edge px-3 font-semibold underline',
          },
        }}
      />
    </I18nProvider>
  )
}

import Link from 'next/link'
import { SignOut } from '@/components/session/sign-out'
import type { Theme } from '@/components/theme/theme'
import { ThemeChoice } from '@/components/theme/theme-choice'

type Props = { name: string; role: string; theme: Theme | undefined }

export function Personal({ name, role, theme }: Props) {
  return (
    <>
      <ThemeChoice theme={theme} />
      <p className="px-2 text-fine-print text-soft">
        {name}, {role}
      </p>
      <div className="flex flex-col items-start">
        <Link
          href="/account"
          prefetch={false}
          className="target inline-flex items-center px-2 text-small text-soft"
        >
          Your account
        </Link>
        <div className="-ms-2">
          <SignOut />
        </div>
      </div>
    </>
  )
}

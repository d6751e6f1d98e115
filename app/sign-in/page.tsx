import { redirect } from 'next/navigation'
import { PlainFrame } from '@/components/shell/plain-frame'
import { readSignedIn } from '@/lib/platform/current-session'
import { getAddressOnSite } from '@/lib/platform/next-address'
import { SignInForm } from './_components/sign-in-form'

export const metadata = { title: 'Sign in' }

type Props = { searchParams: Promise<{ next?: string | string[]; new?: string; from?: string }> }

export default async function SignInPage({ searchParams }: Props) {
  const asked = await searchParams
  const next = getAddressOnSite(typeof asked.next === 'string' ? asked.next : undefined)
  if (await readSignedIn()) redirect(next)
  return (
    <PlainFrame>
      <h1 className="mb-6">Sign in</h1>
      <SignInForm next={next} isFromSignUp={asked.new === 'yes'} isFromReset={asked.from === 'reset'} />
    </PlainFrame>
  )
}

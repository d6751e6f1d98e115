import { redirect } from 'next/navigation'
import { PlainFrame } from '@/components/shell/plain-frame'
import { readSignedIn } from '@/lib/platform/current-session'
import { getAddressOnSite } from '@/lib/platform/next-address'
import { SignUpForm } from './_components/sign-up-form'

export const metadata = { title: 'Open an account' }

type Props = { searchParams: Promise<{ next?: string | string[] }> }

export default async function SignUpPage({ searchParams }: Props) {
  const asked = await searchParams
  const next = getAddressOnSite(typeof asked.next === 'string' ? asked.next : undefined)
  if (await readSignedIn()) redirect(next)
  return (
    <PlainFrame>
      <h1>Open an account</h1>
      <p className="mt-1 mb-6 text-soft">For yourself as a person. Workspaces come after it.</p>
      <SignUpForm next={next} />
    </PlainFrame>
  )
}

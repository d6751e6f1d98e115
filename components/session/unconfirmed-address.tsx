import Link from 'next/link'
import { Notice } from '@/components/ui/notice'

/** What does not work yet for a person whose mail address is not confirmed. */
export function UnconfirmedAddress({ email }: { email: string }) {
  return (
    <Notice
      state="due"
      what={`Your mail address, ${email}, is not confirmed yet.`}
      why="Until it is, you cannot invite anybody, and neither the day sheet nor alarms of a zone are mailed to you. Everything else works."
      next={
        <Link href="/account" className="target inline-flex items-center underline">
          Confirm it
        </Link>
      }
    />
  )
}

import { Notice } from '../ui/notice'
import { CodeField } from './code-field'
import type { Trouble } from './try-sign-in'

/** What came of an attempt to sign in, with the field for the code where one is asked for. */
export function SignInTrouble({ trouble }: { trouble: Trouble | undefined }) {
  if (!trouble) return null
  const { wantsCode, what, why } = trouble
  return (
    <>
      {wantsCode ? <CodeField /> : null}
      <Notice state={wantsCode ? 'due' : 'late'} isAnnounced what={what} why={why} />
    </>
  )
}

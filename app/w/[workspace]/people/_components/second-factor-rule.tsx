'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { requireSecondFactorAction } from '@/lib/features/workspace/actions'

type Props = { workspace: string; isRequired: boolean }

/** Whether a password alone is enough to work here. API tokens are not people and go on as they are. */
export function SecondFactorRule({ workspace, isRequired }: Props) {
  const done = useDone()
  return (
    <section className="mt-8">
      <h2>Second factor</h2>
      <p className="mt-1 mb-3 max-w-xl text-small text-soft">
        {isRequired
          ? 'Whoever works here signs in with a password and a code. Who has no second factor yet sets it up before anything opens.'
          : 'A password alone is enough to work here. You can ask everybody for a code of an authenticator app as well; set yours up first.'}{' '}
        API tokens are not asked.
      </p>
      <ActionButton
        action={requireSecondFactorAction}
        workspace={workspace}
        input={{ isRequired: !isRequired }}
        kind="plain"
        onDone={() =>
          done(
            isRequired ? 'A password alone is enough again.' : 'Everybody is asked for a second factor now.',
          )
        }
      >
        {isRequired ? 'Let a password be enough' : 'Ask everybody for a second factor'}
      </ActionButton>
    </section>
  )
}

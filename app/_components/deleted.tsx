import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { ArchivedWorkspace } from '@/lib/platform/archived-workspace'
import { TakeBack } from './take-back'

/** What an owner deleted and can still have back. */
export function Deleted({ email, deleted }: { email: string; deleted: ArchivedWorkspace[] }) {
  return (
    <SignInAgainProvider email={email}>
      <section className="mt-10 border-line border-t pt-6">
        <h2>Deleted</h2>
        <p className="mb-2 text-small text-soft">
          Nobody can open these. An owner can take one back for 30 days, with everything in it.
        </p>
        <ul aria-label="Deleted workspaces" className="divide-y divide-line border-line border-y">
          {deleted.map(({ workspaceId, name, untilAt }) => (
            <li
              key={workspaceId}
              className="flex flex-wrap items-center justify-between gap-x-4 gap-y-2 py-3"
            >
              <div>
                <p className="font-name font-semibold text-name">{name}</p>
                <p className="text-small text-soft">
                  can be taken back until {writeDay(untilAt.toISOString().slice(0, 10))}
                </p>
              </div>
              <TakeBack workspaceId={workspaceId} />
            </li>
          ))}
        </ul>
      </section>
    </SignInAgainProvider>
  )
}

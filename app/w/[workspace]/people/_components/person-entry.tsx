import type { Member } from '@/lib/features/membership/data'
import { ChangeRole } from './change-role'
import { EndMembership } from './end-membership'

type Props = { workspace: string; member: Member; isSelf: boolean }

export function PersonEntry({ workspace, member, isSelf }: Props) {
  const { personId, version, role, name, email } = member
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-6 gap-y-1 py-3.5">
      <div className="min-w-0">
        <p className="font-semibold">
          {name}
          {isSelf ? <span className="font-normal text-soft"> (you)</span> : null}
        </p>
        <p className="text-small text-soft">
          {role} · {email}
        </p>
      </div>
      <div className="no-print -ms-4 flex flex-wrap desk:ms-0">
        <ChangeRole workspace={workspace} name={name} membership={{ personId, version, role }} />
        <EndMembership {...{ workspace, personId, name, isSelf }} />
      </div>
    </li>
  )
}

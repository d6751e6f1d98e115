import { Notice } from '@/components/ui/notice'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { LetGo, TakeBackLetting } from './let-go'

/** May it leave today, and why not; and who may let it leave all the same. */
export function LeaveToday({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { leave, keptBack, clearances, may, animal } = page
  const reasons = [...leave.blocks, ...leave.warnings]
  return (
    <section>
      <h2>May it leave today?</h2>
      <div className="mt-2">
        <Notice
          state={leave.may ? 'fine' : 'leave-alone'}
          what={leave.may ? 'Yes.' : 'Better not.'}
          why={
            reasons.length > 0 ? (
              <ul className="space-y-1">
                {reasons.map(({ code, message }) => (
                  <li key={code}>{message}</li>
                ))}
              </ul>
            ) : (
              'Nothing in its records speaks against it.'
            )
          }
        />
      </div>
      {clearances.map(({ id, by, reason, version }) => (
        <div key={id} className="mt-2 text-small">
          <p>
            {by ? `${by} lets it leave today all the same: ` : 'It may leave today all the same: '}
            {reason}
          </p>
          {may.clear ? <TakeBackLetting {...{ workspace, version }} clearance={id} /> : null}
        </div>
      ))}
      {keptBack.whom !== null && may.sell ? (
        <p className="mt-2 text-small">{keptBack.whom} before it is sold today.</p>
      ) : null}
      {may.clear && keptBack.open.length > 0 ? (
        <div className="no-print mt-2">
          <LetGo workspace={workspace} individual={animal.id} />
        </div>
      ) : null}
    </section>
  )
}

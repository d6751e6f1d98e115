import { Notice } from '@/components/ui/notice'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import type { OrderPage } from '@/lib/features/order/loaders'
import { SettleClaim } from './settle-claim'

const ENDS = { nothing: 'nothing was agreed', refund: 'paid back', replacement: 'replaced' }

/** How it arrived, and what came of a loss. */
export function Arrived({ workspace, page }: { workspace: string; page: OrderPage }) {
  const { order, lines, claim, today, state, mayWrite } = page
  const animals = lines.flatMap(({ chosen }) => chosen)
  const count = (as: 'hurt' | 'dead') => animals.filter(({ arrived }) => arrived === as).length
  const [hurt, dead] = [count('hurt'), count('dead')]
  const when = order.arrivedOn ? writeDay(order.arrivedOn, today) : ''
  if (hurt + dead === 0)
    return (
      <div className="mt-5">
        <Notice state="fine" what={`Everything arrived alive on ${when}.`} why={order.arrivalNote} />
      </div>
    )
  const losses = [dead ? `${dead} dead` : '', hurt ? `${hurt} hurt` : ''].filter(Boolean).join(', ')
  const settled = order.claimEnd
    ? `Settled ${order.claimEndOn ? writeDay(order.claimEndOn, today) : ''}: ${ENDS[order.claimEnd]}. ${order.claimNote}`
    : ''
  const photographs = `${writeCount(order.photographs, 'photograph')} received.`
  return (
    <div className="mt-5">
      <Notice
        state={state === 'to-settle' ? 'late' : 'leave-alone'}
        what={`Arrived on ${when}: ${losses} of ${animals.length}.`}
        why={[claim?.words, photographs, order.arrivalNote, settled].filter(Boolean).join(' ')}
        next={state === 'to-settle' && mayWrite ? <SettleClaim workspace={workspace} page={page} /> : null}
      />
    </div>
  )
}

import { Notice } from '@/components/ui/notice'
import type { LeaveToday as Leave } from '@/lib/domain/sale/leave-today'

/** May it leave today, and why not. Advice: what happens all the same is recorded. */
export function LeaveToday({ leave }: { leave: Leave }) {
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
    </section>
  )
}

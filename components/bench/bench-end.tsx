import type { ReactNode } from 'react'
import { Notice } from '../ui/notice'

type Props = {
  housed: number
  dead: number
  escaped: number
  /** "K7Q 97 to M2T 14"; null where no cup was filled. */
  labelRange: string | null
  /** The cups are kept as one. */
  isTray?: boolean
  /** What stays together and why: "12, hanging: Thursday". */
  staying: readonly { count: number; reason: string }[]
  /** Asks how many of those hang for a moult. */
  hanging?: ReactNode
  waitingCount: number
  /** Print the labels, back to the clutch, go on. One of them filled. */
  actions: ReactNode
}

function sayLosses(dead: number, escaped: number): string {
  const losses = [dead > 0 ? `${dead} dead` : '', escaped > 0 ? `${escaped} escaped` : ''].filter(Boolean)
  return losses.length === 0 ? 'None lost.' : `${losses.join(', ')}.`
}

/** The end of a run: what was done, what stays together and why, and the labels. */
export function BenchEnd(props: Props) {
  const { housed, dead, escaped, labelRange, isTray = false, staying, hanging, waitingCount, actions } = props
  return (
    <section className="space-y-5">
      <div>
        <h2>{housed === 1 ? '1 animal in its own cup' : `${housed} animals in cups of their own`}</h2>
        <p className="text-soft">
          {sayLosses(dead, escaped)} {labelRange ? `Labels ${labelRange}.` : ''}
          {isTray ? ' Kept as one tray, with one label.' : ''}
        </p>
      </div>
      {staying.length === 0 ? null : (
        <div>
          <h3>Still together</h3>
          <ul className="divide-y divide-line border-line border-y">
            {staying.map((group) => (
              <li key={group.reason} className="flex gap-3 py-2">
                <strong className="w-10 text-end">{group.count}</strong>
                <span>{group.reason}</span>
              </li>
            ))}
          </ul>
          {hanging ? <div className="mt-3">{hanging}</div> : null}
        </div>
      )}
      {waitingCount > 0 ? (
        <Notice
          state="due"
          what={`${waitingCount} ${waitingCount === 1 ? 'entry is' : 'entries are'} still on this device only.`}
          why="They are sent by themselves as soon as there is a connection. Leave this page open until then."
        />
      ) : null}
      <div className="flex flex-wrap gap-3">{actions}</div>
    </section>
  )
}

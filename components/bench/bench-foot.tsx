import type { ReactNode } from 'react'
import type { BenchCounts } from './bench'

type Props = {
  counts: BenchCounts
  onDead: (atMs: number) => void
  onEscaped: (atMs: number) => void
  onFinish: () => void
  isSoundOn: boolean
  onSound: () => void
}

/** What is not a cup. Undo is at the other end of the screen on purpose. */
export function BenchFoot({ counts, onDead, onEscaped, onFinish, isSoundOn, onSound }: Props) {
  return (
    <div>
      <div className="grid grid-cols-2 gap-2">
        <LossButton word="Dead" count={counts.dead} onPress={onDead} />
        <LossButton word="Escaped" count={counts.escaped} onPress={onEscaped} />
      </div>
      <div className="mt-1 flex items-center justify-between gap-2">
        <QuietButton onPress={onSound} isPressed={isSoundOn}>
          {isSoundOn ? 'Sound on' : 'Sound off'}
        </QuietButton>
        <p className="text-center text-fine-print text-soft">{counts.together} still together</p>
        <QuietButton onPress={onFinish}>Finish</QuietButton>
      </div>
    </div>
  )
}

function LossButton({
  word,
  count,
  onPress,
}: {
  word: string
  count: number
  onPress: (atMs: number) => void
}) {
  return (
    <button
      type="button"
      onClick={(event) => onPress(event.timeStamp)}
      className="min-h-14 rounded-edge border border-ink px-3 font-semibold active:bg-wash"
    >
      {word}
      {count > 0 ? <span className="font-normal text-soft"> {count}</span> : null}
    </button>
  )
}

type QuietProps = { onPress: () => void; isPressed?: boolean; children: ReactNode }

function QuietButton({ onPress, isPressed, children }: QuietProps) {
  return (
    <button
      type="button"
      aria-pressed={isPressed}
      onClick={onPress}
      className="target rounded-edge px-3 font-semibold text-small underline underline-offset-4"
    >
      {children}
    </button>
  )
}

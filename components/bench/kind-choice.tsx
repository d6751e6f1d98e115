'use client'

type Props = {
  kinds: readonly { id: string; name: string }[]
  chosenId: string
  onChoose: (id: string) => void
}

/** What the next animal goes into. Stays as chosen until it is changed. */
export function KindChoice({ kinds, chosenId, onChoose }: Props) {
  return (
    <fieldset className="flex min-w-0 gap-2 overflow-x-auto p-[3px]">
      <legend className="sr-only">Container</legend>
      {kinds.map((kind) => (
        <label
          key={kind.id}
          className="target flex flex-1 shrink-0 basis-20 cursor-pointer items-center justify-center rounded-edge border border-edge px-2 py-2 text-center font-semibold text-small text-soft has-checked:border-2 has-checked:border-ink has-checked:text-ink has-focus-visible:outline-3 has-focus-visible:outline-ink"
        >
          <input
            type="radio"
            name="container-kind"
            className="sr-only"
            checked={kind.id === chosenId}
            onChange={() => onChoose(kind.id)}
          />
          {kind.name}
        </label>
      ))}
    </fieldset>
  )
}

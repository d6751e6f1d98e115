'use client'

import { useFormContext } from 'react-hook-form'

type Props = { name: string; label: string; choices: readonly { value: string; label: string }[] }

/** Any number of a few, as ticks that share one list. */
export function FormTicks({ name, label, choices }: Props) {
  const { register } = useFormContext()
  return (
    <fieldset className="min-w-0">
      <legend className="mb-1 font-semibold text-small">{label}</legend>
      {choices.map(({ value, label: word }) => (
        <label key={value} className="target flex cursor-pointer items-center gap-3">
          <input type="checkbox" className="size-5 shrink-0" value={value} {...register(name)} />
          <span>{word}</span>
        </label>
      ))}
    </fieldset>
  )
}

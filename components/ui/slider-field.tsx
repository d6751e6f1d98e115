'use client'

import { useId } from 'react'

type Props = {
  label: string
  value: number
  max: number
  step: number
  /** The figure as it is read: "1 h 30", "40 cups". */
  said: string
  onChange: (value: number) => void
}

/** A figure that is moved rather than typed: the arrow keys move it too. */
export function SliderField({ label, value, max, step, said, onChange }: Props) {
  const id = useId()
  return (
    <div className="grid grid-cols-[6.5rem_minmax(0,1fr)_5rem] items-center gap-x-3">
      <label htmlFor={id} className="text-small">
        {label}
      </label>
      <input
        id={id}
        type="range"
        min={0}
        max={max}
        step={step}
        value={value}
        aria-valuetext={said}
        onChange={(event) => onChange(Number(event.currentTarget.value))}
        className="h-11 w-full"
      />
      <output htmlFor={id} className="text-end text-small">
        {said}
      </output>
    </div>
  )
}

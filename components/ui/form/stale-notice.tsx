'use client'

import type { FieldValues } from 'react-hook-form'
import { Button } from '../button'
import { Notice } from '../notice'
import { readFigure } from './form-input'
import type { FormLabels } from './form-labels'

export type PresentValues = Record<string, unknown>

export function isPresentValues(present: unknown): present is PresentValues {
  return typeof present === 'object' && present !== null && !Array.isArray(present)
}

/** 26 and "26" and "26,0" are no difference; nothing and an empty box are none either. */
function isSame(one: unknown, other: unknown): boolean {
  const plain = (value: unknown) => String(readFigure(value ?? '') ?? '')
  return plain(one) === plain(other)
}

export function listDifferences(present: PresentValues, typed: FieldValues, labels: FormLabels) {
  return [...labels].flatMap(([name, speech]) =>
    name in present && !isSame(present[name], typed[name])
      ? [{ name, label: speech.label, now: speech.say(present[name]), yours: speech.say(typed[name]) }]
      : [],
  )
}

type Props = {
  message: string
  present: PresentValues
  typed: FieldValues
  labels: FormLabels
  onKeepMine: () => void
  onTakeTheirs: () => void
}

/** Someone else saved first: both values side by side, and what was typed stays in the form. */
export function StaleNotice({ message, present, typed, labels, onKeepMine, onTakeTheirs }: Props) {
  const differences = listDifferences(present, typed, labels)
  return (
    <Notice
      state="due"
      isAnnounced
      what={message}
      why={
        differences.length === 0 ? (
          'It now says the same as you entered.'
        ) : (
          <table className="mt-2 w-full text-ink">
            <thead>
              <tr className="border-line border-b text-start text-fine-print text-soft">
                <th scope="col" className="py-1 pe-3 text-start font-normal">
                  <span className="sr-only">Field</span>
                </th>
                <th scope="col" className="py-1 pe-3 text-start font-normal">
                  Recorded now
                </th>
                <th scope="col" className="py-1 text-start font-normal">
                  You entered
                </th>
              </tr>
            </thead>
            <tbody>
              {differences.map((difference) => (
                <tr key={difference.name} className="border-line border-b align-top">
                  <th scope="row" className="py-1.5 pe-3 text-start font-semibold">
                    {difference.label}
                  </th>
                  <td className="py-1.5 pe-3">{difference.now}</td>
                  <td className="py-1.5">{difference.yours}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )
      }
      next={
        <>
          <Button onClick={onKeepMine}>Record what I entered</Button>
          <Button kind="quiet" onClick={onTakeTheirs}>
            Take what is recorded now
          </Button>
        </>
      }
    />
  )
}

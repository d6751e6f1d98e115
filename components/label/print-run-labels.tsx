'use client'

import { useState } from 'react'
import { getLabelSheet, LABEL_LAYOUTS, placesOn, sayLayout } from '@/lib/domain/label/sheet'
import { buttonStyle } from '../ui/button-style'
import { NumberField } from '../ui/number-field'
import { Select } from '../ui/select'
import { useLabelPaper } from './use-label-paper'

const CHOICES = LABEL_LAYOUTS.map((value) => ({ value, label: sayLayout(value) }))

type Props = {
  href: string
  count: number
  /** Takes the address of the file instead of following it. */
  onPrint?: (address: string) => void
}

/** One file for the whole run, for the paper in the printer; a sheet that was begun goes on where it was left. */
export function PrintRunLabels({ href, count, onPrint }: Props) {
  const [layout, choose] = useLabelPaper()
  const [start, setStart] = useState('1')
  const sheet = getLabelSheet(layout)
  const places = sheet ? placesOn(sheet) : 1
  const first = Number(start)
  const isRight = Number.isInteger(first) && first >= 1 && first <= places
  const address = `${href}${href.includes('?') ? '&' : '?'}layout=${layout}&start=${sheet ? first : 1}`
  const sheets = Math.ceil((first - 1 + count) / places)
  return (
    <div className="w-full space-y-4">
      <div className="grid gap-4 desk:grid-cols-2">
        <Select
          label="Paper"
          choices={CHOICES}
          value={layout}
          onChange={(event) => {
            choose(event.target.value)
            setStart('1')
          }}
        />
        {sheet ? (
          <NumberField
            label="First free label on the sheet"
            isWhole
            value={start}
            onChange={(event) => setStart(event.target.value)}
            error={isRight ? undefined : `From 1 to ${places}, row by row.`}
            hint={
              isRight ? `${sheets === 1 ? '1 sheet' : `${sheets} sheets`}, counted row by row.` : undefined
            }
          />
        ) : null}
      </div>
      {!sheet || isRight ? (
        <a
          href={address}
          onClick={(event) => {
            if (!onPrint) return
            event.preventDefault()
            onPrint(address)
          }}
          className={buttonStyle({ kind: 'filled' })}
        >
          Print labels
        </a>
      ) : null}
    </div>
  )
}

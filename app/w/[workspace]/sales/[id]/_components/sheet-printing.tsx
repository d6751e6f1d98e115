'use client'

import { useState } from 'react'
import { PrintSheet } from '@/components/care-sheet/print-sheet'
import { Select } from '@/components/ui/select'
import { formatCode } from '@/lib/domain/label/code'
import type { ReceiptPage } from '@/lib/features/sale/loaders'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

const CHOICES = LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value] }))

/** A sheet for every animal, in the customer's language. */
export function SheetPrinting({ workspace, page }: { workspace: string; page: ReceiptPage }) {
  const [language, setLanguage] = useState<string>(page.language)
  const lines = page.sale.lines.flatMap(({ individual, label, returned }) =>
    individual && label && returned === 0 ? [{ individual, label }] : [],
  )
  if (lines.length === 0) return null
  return (
    <section className="no-print mt-8 max-w-3xl border-line border-t pt-4">
      <h2>Care sheets</h2>
      <div className="mt-3 flex flex-wrap items-end gap-3">
        <div className="w-48">
          <Select
            label="Language"
            choices={CHOICES}
            value={language}
            onChange={(event) => setLanguage(event.target.value)}
          />
        </div>
        {lines.map(({ individual, label }) => (
          <PrintSheet
            key={individual}
            {...{ workspace, individual, language }}
            kind={lines.length === 1 ? 'filled' : 'plain'}
            label={lines.length === 1 ? 'Print its care sheet' : `Sheet of ${formatCode(label)}`}
          />
        ))}
      </div>
    </section>
  )
}

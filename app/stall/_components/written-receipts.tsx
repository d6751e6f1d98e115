'use client'

import type { KeptReceipt } from '@/components/stall/stall-store'
import { writeMoney } from '@/lib/domain/money/money'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import type { StallPart } from '@/lib/features/stall/schema'

type Props = { kept: StallPart; receipts: readonly KeptReceipt[]; onShow: (receipt: KeptReceipt) => void }

const WORDS = { waiting: 'waiting to be sent', sent: 'sent', refused: 'not taken' }

/** What this device has written, newest first, and what the service said of it. */
export function WrittenReceipts({ kept, receipts, onShow }: Props) {
  if (receipts.length === 0) return null
  const sum = receipts.reduce((total, { totalMinor }) => total + totalMinor, 0)
  const say = (minor: number) => writeMoney(minor, kept.workspace.currency, 'en')
  return (
    <section aria-labelledby="written">
      <h2 id="written">Receipts of this device</h2>
      <p className="mt-1 text-small text-soft">
        {receipts.length} for {say(sum)} in all. One is taken back at its own page, once it has been sent.
      </p>
      <ul className="mt-2 divide-y divide-line border-line border-y">
        {receipts
          .toSorted((a, b) => b.sent.number - a.sent.number)
          .map((receipt) => (
            <li key={receipt.sent.id} className="py-2">
              <button
                type="button"
                className="target flex w-full flex-wrap items-baseline justify-between gap-x-4 text-start hover:bg-wash"
                onClick={() => onShow(receipt)}
              >
                <span>
                  <span className="font-semibold tabular-nums underline underline-offset-4">
                    {writeReceiptNumber({ series: receipt.sent.series, receiptNumber: receipt.sent.number })}
                  </span>{' '}
                  <span className="text-small">{receipt.labels.join(', ')}</span>
                </span>
                <span className="text-small tabular-nums">
                  {say(receipt.totalMinor)}, {WORDS[receipt.state]}
                </span>
              </button>
              {receipt.told ? <p className="text-small">{receipt.told}</p> : null}
            </li>
          ))}
      </ul>
    </section>
  )
}

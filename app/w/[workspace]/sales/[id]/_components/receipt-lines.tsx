import Link from 'next/link'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { ReceiptPage } from '@/lib/features/sale/loaders'

/** What was sold for how much; what spoke against it is for the people here and not printed. */
export function ReceiptLines({ workspace, page }: { workspace: string; page: ReceiptPage }) {
  const { lines, total } = page.sale
  return (
    <table className="mt-2 w-full max-w-3xl">
      <caption className="sr-only">What was sold</caption>
      <thead className="sr-only">
        <tr>
          <th scope="col">Animal</th>
          <th scope="col">Price</th>
        </tr>
      </thead>
      <tbody className="divide-y divide-line">
        {lines.map((line) => (
          <tr key={line.individual}>
            <th scope="row" className="py-3 pe-4 text-start align-baseline font-normal">
              <Link
                href={`/w/${workspace}/individuals/${line.individual}`}
                className="font-semibold tabular-nums"
              >
                {formatCode(line.label)}
              </Link>
              <span className="block text-small text-soft">{line.description}</span>
              {line.warnings.length > 0 ? (
                <ul className="no-print mt-1 text-small">
                  {line.warnings.map(({ code, message }) => (
                    <li key={code}>{message}</li>
                  ))}
                  {line.overrideReason ? <li>Left all the same: {line.overrideReason}</li> : null}
                </ul>
              ) : null}
            </th>
            <td className="py-3 text-end align-baseline tabular-nums">
              {writeMoney(line.price.amount, line.price.currency, 'en')}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr className="border-ink border-t-2">
          <th scope="row" className="py-3 text-start">
            Total
          </th>
          <td className="py-3 text-end font-semibold text-lead tabular-nums">
            {writeMoney(total.amount, total.currency, 'en')}
          </td>
        </tr>
      </tfoot>
    </table>
  )
}

import Link from 'next/link'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { ReceiptPage } from '@/lib/features/sale/loaders'

type Line = ReceiptPage['sale']['lines'][number]
type Money = Line['price']

export const sayMoney = ({ amount, currency }: Money) => writeMoney(amount, currency, 'en')

/** What was sold for how much; what spoke against it is for the people here and not printed. */
export function ReceiptLines({ workspace, page }: { workspace: string; page: ReceiptPage }) {
  const { lines, total } = page.sale
  return (
    <table className="mt-2 w-full max-w-3xl">
      <caption className="sr-only">What was sold</caption>
      <thead className="sr-only">
        <tr>
          <th scope="col">What</th>
          <th scope="col">Price</th>
        </tr>
      </thead>
      <tbody className="divide-y divide-line">
        {lines.map((line) => (
          <tr key={line.number}>
            <th scope="row" className="py-3 pe-4 text-start align-baseline font-normal">
              <LineName workspace={workspace} line={line} />
              <LineNotes line={line} />
            </th>
            <td className="py-3 text-end align-baseline tabular-nums">{sayMoney(line.price)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr className="border-ink border-t-2">
          <th scope="row" className="py-3 text-start">
            Total
          </th>
          <td className="py-3 text-end font-semibold text-lead tabular-nums">{sayMoney(total)}</td>
        </tr>
      </tfoot>
    </table>
  )
}

function LineName({ workspace, line }: { workspace: string; line: Line }) {
  const { individual, label, description, quantity } = line
  if (!individual || !label)
    return (
      <span>
        {quantity > 1 && line.kind !== 'lot' ? `${quantity} × ` : ''}
        {description}
      </span>
    )
  return (
    <>
      <Link href={`/w/${workspace}/individuals/${individual}`} className="font-semibold tabular-nums">
        {formatCode(label)}
      </Link>
      <span className="block text-small text-soft">{description}</span>
    </>
  )
}

function LineNotes({ line }: { line: Line }) {
  const { discount, returned, quantity, warnings, overrideReason } = line
  return (
    <>
      {discount.amount > 0 ? (
        <span className="block text-small text-soft">after {sayMoney(discount)} off</span>
      ) : null}
      {returned > 0 ? (
        <span className="block text-small">
          {returned === quantity ? 'came back' : `${returned} came back`}
        </span>
      ) : null}
      {warnings.length > 0 ? (
        <ul className="no-print mt-1 text-small">
          {warnings.map(({ code, message }) => (
            <li key={code}>{message}</li>
          ))}
          {overrideReason ? <li>Left all the same: {overrideReason}</li> : null}
        </ul>
      ) : null}
    </>
  )
}

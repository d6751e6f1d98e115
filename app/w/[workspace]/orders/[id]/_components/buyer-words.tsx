import Link from 'next/link'
import { CopyButton } from '@/components/ui/copy-button'
import type { OrderPage } from '@/lib/features/order/loaders'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

type Props = { workspace: string; page: OrderPage; words: string }

/** What the buyer can be written about the wait, to be copied. */
export function BuyerWords({ workspace, page, words }: Props) {
  const { order, language } = page
  return (
    <section className="no-print mt-8 max-w-2xl">
      <h2>Words for the buyer</h2>
      <nav aria-label="Language of the words" className="-mx-2 flex flex-wrap">
        {LANGUAGES.map((one) => (
          <Link
            key={one}
            href={`/w/${workspace}/orders/${order.id}?language=${one}`}
            prefetch={false}
            scroll={false}
            aria-current={one === language ? 'true' : undefined}
            className="target inline-flex items-center px-2 text-small aria-[current=true]:font-semibold aria-[current=true]:no-underline"
          >
            {LANGUAGE_NAMES[one]}
          </Link>
        ))}
      </nav>
      <p lang={language} className="mt-1 whitespace-pre-line border-line border-y py-3">
        {words}
      </p>
      <div className="-ms-4">
        <CopyButton text={words} label="Copy the words" />
      </div>
    </section>
  )
}

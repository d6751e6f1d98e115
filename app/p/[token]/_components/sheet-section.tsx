import { clsx } from 'clsx'
import type { Section } from '@/lib/documents/care-sheet/parts'

/** A heading with its sentences; what a hurried reader must see is heavier, leave-alone rules have their colour. */
export function SheetSection({ section, isBoxed = false }: { section: Section; isBoxed?: boolean }) {
  return (
    <section className={clsx('mt-6', isBoxed && 'border border-edge rounded-edge p-4')}>
      <h2>{section.heading}</h2>
      {section.sentences.map((sentence) => (
        <p
          key={sentence.text}
          className={clsx(
            'mt-1',
            (sentence.isLead || sentence.isHush) && 'font-semibold',
            sentence.isHush && 'text-hush',
          )}
        >
          {sentence.text}
        </p>
      ))}
    </section>
  )
}

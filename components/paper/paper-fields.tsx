'use client'

import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { PAPER_KIND_WORDS, PAPER_KINDS } from '@/lib/domain/paper/paper'

const KINDS = PAPER_KINDS.map((value) => ({ value, label: PAPER_KIND_WORDS[value] }))

/** What a paper is, its number and its day. `of`: where they stand in the form; `isOptional`: there may be none. */
export function PaperFields({ of = '', isOptional = false }: { of?: string; isOptional?: boolean }) {
  const nameOf = (field: string) => (of === '' ? field : `${of}.${field}`)
  return (
    <>
      <FormSelect
        name={nameOf('kind')}
        label="Kind of paper"
        choices={KINDS}
        placeholder={isOptional ? 'none' : 'Choose one'}
        isOptional={isOptional}
      />
      <FormText
        name={nameOf('number')}
        label="Its number"
        hint="As it stands on the paper."
        isOptional={isOptional}
      />
      <FormDate
        name={nameOf('on')}
        label="Its day"
        hint="The day that stands on it."
        isOptional={isOptional}
      />
    </>
  )
}

/** Folded away in a form that is mostly filled in without. */
export function MaybePaper({ title }: { title: string }) {
  return (
    <details>
      <summary className="py-2.5 font-semibold text-small">{title}</summary>
      <div className="mt-3 space-y-5">
        <PaperFields of="paper" isOptional />
        <p className="text-small text-soft">
          Which animals need a permit or a proof of origin is said by the law where you are: ask your
          authority.
        </p>
      </div>
    </details>
  )
}

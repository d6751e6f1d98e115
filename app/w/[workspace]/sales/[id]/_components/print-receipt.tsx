'use client'

import { useEffect, useState } from 'react'
import { printFile } from '@/components/care-sheet/print-file'
import { Button } from '@/components/ui/button'
import { LinkButton } from '@/components/ui/link-button'
import { Select } from '@/components/ui/select'
import { LANGUAGE_NAMES, LANGUAGES, type Language } from '@/lib/messages/language'

const PAPERS = [
  { value: 'roll', label: '80 mm roll' },
  { value: 'a4', label: 'A4' },
  { value: 'letter', label: 'Letter' },
]
const PAGE_RULES: Record<string, string> = {
  roll: '@page { size: 80mm 220mm; margin: 3mm }',
  a4: '@page { size: A4; margin: 18mm }',
  letter: '@page { size: letter; margin: 18mm }',
}
const KEPT = 'receipt-paper'

const LANGUAGE_CHOICES = LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value] }))

type Props = { workspace: string; sale: string; language: Language }

/**
 * Opens the print dialogue on the paper that this device has; it is chosen once. This page is English, so a receipt in
 * another language is printed from its file. The same as a PDF beside it.
 */
export function PrintReceipt({ workspace, sale, language: own }: Props) {
  const [paper, setPaper] = useState('roll')
  const [language, setLanguage] = useState<string>(own)
  const file = `/w/${workspace}/sales/${sale}/receipt.pdf?paper=${paper}&language=${language}`
  useEffect(() => {
    const kept = window.localStorage.getItem(KEPT)
    if (kept && PAGE_RULES[kept]) setPaper(kept)
  }, [])
  return (
    <>
      <style>{PAGE_RULES[paper]}</style>
      <div className="w-36">
        <Select
          label="Paper"
          choices={PAPERS}
          value={paper}
          onChange={(event) => {
            setPaper(event.target.value)
            window.localStorage.setItem(KEPT, event.target.value)
          }}
        />
      </div>
      <div className="w-36">
        <Select
          label="In"
          choices={LANGUAGE_CHOICES}
          value={language}
          onChange={(event) => setLanguage(event.target.value)}
        />
      </div>
      <div className="flex flex-wrap items-end gap-2">
        <Button onClick={() => (language === 'en' ? window.print() : printFile(file))}>
          Print the receipt
        </Button>
        <LinkButton href={file} prefetch={false} target="_blank">
          As PDF
        </LinkButton>
      </div>
    </>
  )
}

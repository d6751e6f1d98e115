'use client'

import { useEffect, useState } from 'react'
import { Button } from '@/components/ui/button'
import { LinkButton } from '@/components/ui/link-button'
import { Select } from '@/components/ui/select'

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

/** Opens the print dialogue on the paper that this device has; it is chosen once. The same as a PDF beside it. */
export function PrintReceipt({ workspace, sale }: { workspace: string; sale: string }) {
  const [paper, setPaper] = useState('roll')
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
      <div className="flex flex-wrap items-end gap-2">
        <Button onClick={() => window.print()}>Print the receipt</Button>
        <LinkButton
          href={`/w/${workspace}/sales/${sale}/receipt.pdf?paper=${paper}`}
          prefetch={false}
          target="_blank"
        >
          As PDF
        </LinkButton>
      </div>
    </>
  )
}

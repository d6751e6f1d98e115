import { writeDay } from '@/lib/domain/calendar/wording'
import { writeLot } from '@/lib/domain/colony/company'
import type { ColonyPage } from '@/lib/features/colony/loaders'

const SEXES = [
  { sex: 'male', head: '♂ male' },
  { sex: 'female', head: '♀ female' },
  { sex: 'unsexed', head: '? unsexed' },
] as const

/** Who was inside when somebody last counted, by instar and sex. */
export function CountTable({ page }: { page: ColonyPage }) {
  const { colony, lines, today } = page
  if (!colony.countedOn)
    return (
      <section>
        <h2 className="mb-2">By sex and instar</h2>
        <p className="text-soft">Nobody has counted yet. Until then the stages of those put in count.</p>
      </section>
    )
  const stages = [...new Set(lines.map(({ label }) => label))]
  const of = (label: string, sex: string) =>
    lines.find((line) => line.label === label && line.sex === sex)?.animals ?? 0
  return (
    <section className="min-w-0">
      <h2 className="mb-2">By sex and instar</h2>
      <table className="w-full">
        <caption className="mb-1 text-start text-small text-soft">
          {writeLot(colony.lines)} counted {writeDay(colony.countedOn, today)}
          {colony.countedBy ? ` by ${colony.countedBy}` : ''}
        </caption>
        <thead>
          <tr className="border-ink border-b text-fine-print text-soft">
            <th scope="col" className="py-2 text-start font-semibold">
              Instar
            </th>
            {SEXES.map(({ sex, head }) => (
              <th key={sex} scope="col" className="py-2 text-end font-semibold">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody className="divide-y divide-line">
          {stages.map((label) => (
            <tr key={label}>
              <th scope="row" className="py-2 text-start font-semibold">
                {label}
              </th>
              {SEXES.map(({ sex }) => (
                <td key={sex} className="py-2 text-end tabular-nums">
                  {of(label, sex) || '–'}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

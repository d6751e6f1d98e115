import { saySource } from '@/lib/domain/care-profile/value'
import type { ListedValue } from '@/lib/domain/care-profile/value-list'
import type { OwnValue } from '@/lib/domain/growth/own-value'
import { ChangeColonyRule } from './change-colony-rule'
import { ChangeValue, type EditPlace } from './change-value'
import { OwnRecords } from './own-records'
import { sayValue } from './say-value'

type Props = { title: string; values: ListedValue[]; own: readonly OwnValue[]; edit: EditPlace | undefined }

export function CareValues({ title, values, own, edit }: Props) {
  const ownOf = new Map(own.map((value) => [value.path, value]))
  return (
    <section className="mt-8">
      <h2 className="mb-1">{title}</h2>
      <ul aria-label={title} className="divide-y divide-line border-line border-y">
        {values.map((value) => (
          <li
            key={value.path}
            className="grid min-h-11 grid-cols-[minmax(0,1fr)_auto] items-center gap-x-4 py-1.5 desk:grid-cols-[minmax(0,5fr)_minmax(0,4fr)_minmax(0,6fr)_5rem]"
          >
            <p className="col-start-1 text-small text-soft desk:col-auto">{value.label}</p>
            <p className="col-start-1 min-w-0 font-semibold desk:col-auto">{sayValue(value)}</p>
            <div className="col-start-1 min-w-0 text-fine-print text-soft desk:col-auto">
              <p>{saySource(value.source, value.note)}</p>
              <OwnRecords listed={value} own={ownOf.get(value.path)} edit={edit} />
            </div>
            {edit && value.path.startsWith('separation.allowsColony') ? (
              <div className="no-print col-start-2 row-span-3 row-start-1 -me-4 desk:col-auto desk:row-auto desk:me-0">
                <ChangeColonyRule edit={edit} value={value} />
              </div>
            ) : null}
            {edit && value.isEditable ? (
              <div className="no-print col-start-2 row-span-3 row-start-1 -me-4 desk:col-auto desk:row-auto desk:me-0">
                <ChangeValue edit={edit} value={value} />
              </div>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  )
}

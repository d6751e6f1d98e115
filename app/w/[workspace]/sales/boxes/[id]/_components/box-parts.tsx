import { Moment } from '@/components/calendar/moment'
import { buttonStyle } from '@/components/ui/button-style'
import type { ShowBoxPage } from '@/lib/features/show-box/loaders'
import { MoveToNewPart } from './move-to-new-part'

type Props = { workspace: string; page: ShowBoxPage }

/** Which device sells what. The link opens the counter that works without a connection. */
export function BoxParts({ workspace, page }: Props) {
  const { box, workspaceId, maySell, animals } = page
  return (
    <section aria-labelledby="parts">
      <h2 id="parts">Selling there</h2>
      <p className="mt-1 max-w-2xl text-small text-soft">
        Open a part on the device that will sell from it, once, before you leave. Then it needs no connection,
        and sends its receipts when there is one again.
      </p>
      <ul className="mt-3 divide-y divide-line border-line border-y">
        {box.parts.map((part) => {
          const left = animals.filter((animal) => animal.part === part.number && animal.end === null).length
          return (
            <li
              key={part.number}
              className="flex flex-wrap items-center justify-between gap-x-6 gap-y-2 py-3"
            >
              <div>
                <p className="font-semibold">
                  Part {part.series}: {left} {left === 1 ? 'animal' : 'animals'}
                </p>
                <p className="text-small text-soft">
                  {part.device === null ? (
                    'no device has it yet'
                  ) : (
                    <>
                      with {part.takenBy ?? 'somebody'}, {part.receipts}{' '}
                      {part.receipts === 1 ? 'receipt has' : 'receipts have'} arrived
                      {part.heardAt ? (
                        <>
                          , last heard of <Moment at={part.heardAt} timeZone={page.timeZone} />
                        </>
                      ) : null}
                    </>
                  )}
                </p>
              </div>
              {maySell ? (
                <div className="no-print flex flex-wrap gap-2">
                  <a
                    href={`/stall#${workspaceId}/${box.id}/${part.number}`}
                    className={buttonStyle({ kind: part.device === null ? 'filled' : 'plain' })}
                  >
                    Open on this device
                  </a>
                  {part.device !== null && left > 0 ? (
                    <MoveToNewPart
                      workspace={workspace}
                      input={{ box: box.id, version: box.version, from: part.number }}
                    />
                  ) : null}
                </div>
              ) : null}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

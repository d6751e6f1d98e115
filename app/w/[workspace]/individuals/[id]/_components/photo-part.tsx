'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { archivePhotoAction, choosePhotoAction } from '@/lib/features/photo/actions'
import type { PhotoAnswer } from '@/lib/features/photo/schema'
import { AddPhoto } from './add-photo'

/** The photos of an animal; one of them is on its sheet and its public page. */
export function PhotoPart({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { photos, may, animal, today } = page
  if (photos.length === 0 && !may.write) return null
  return (
    <section>
      <h2>Photos</h2>
      {photos.length === 0 ? (
        <p className="mt-2 text-small text-soft">
          None yet. The first one goes on its care sheet and its public page.
        </p>
      ) : (
        <ul className="mt-3 grid grid-cols-2 gap-4">
          {photos.map((photo) => (
            <OnePhoto key={photo.id} {...{ workspace, photo, today }} mayWrite={may.write} />
          ))}
        </ul>
      )}
      {may.write ? <AddPhoto workspace={workspace} individual={animal.id} /> : null}
    </section>
  )
}

type OneProps = { workspace: string; photo: PhotoAnswer; today: string; mayWrite: boolean }

function OnePhoto({ workspace, photo, today, mayWrite }: OneProps) {
  const done = useDone()
  const { id, version, onSheet } = photo
  const day = writeDay(photo.addedAt.slice(0, 10), today)
  return (
    <li className="space-y-2">
      {/* biome-ignore lint/performance/noImgElement: an optimiser would keep copies that no one has the right to ask for */}
      <img
        src={`/w/${workspace}/individuals/${photo.individual}/photos/${id}`}
        alt={`Added ${day}`}
        width={photo.widthPx}
        height={photo.heightPx}
        loading="lazy"
        className="h-auto w-full rounded-edge border border-line"
      />
      <p className="text-small text-soft">
        {onSheet ? <StateMark state="fine" word="on its sheet" /> : `added ${day}`}
      </p>
      {mayWrite ? (
        <div className="flex flex-wrap gap-2">
          <ActionButton
            action={choosePhotoAction}
            workspace={workspace}
            input={{ photo: id, version, onSheet: !onSheet }}
            kind="quiet"
            onDone={() => done(onSheet ? 'It is off the sheet.' : 'It is on the sheet.')}
          >
            {onSheet ? 'Off the sheet' : 'On the sheet'}
          </ActionButton>
          <ActionButton
            action={archivePhotoAction}
            workspace={workspace}
            input={{ photo: id, version }}
            kind="quiet"
            onDone={() => done('The photo is taken away.')}
          >
            Take away
          </ActionButton>
        </div>
      ) : null}
    </li>
  )
}

'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { LinkButton } from '@/components/ui/link-button'
import type { Choice } from '@/components/ui/select'
import {
  correctCountAction,
  moveClutchAction,
  recordFoundAgainAction,
  recordRecountAction,
} from '@/lib/features/clutch/actions'
import {
  clutchMoveSchema,
  countCorrectionSchema,
  foundAgainSchema,
  newRecountFormSchema,
} from '@/lib/features/clutch/schema'
import { IntoBox } from './into-box'
import { RecordLoss } from './record-loss'
import { RecordObservation } from './record-observation'

export type ClutchHead = {
  id: string
  label: string
  together: number
  hatched: number
  escaped: number
  isCounted: boolean
  zoneId: string
  isInColony: boolean
  /** by the care profile of its species */
  mayLiveTogether: boolean
}
export type ClutchActionProps = {
  workspace: string
  today: string
  clutch: ClutchHead
  zones: Choice[]
  /** Kinds of container for several animals. */
  boxes: Choice[]
  /** Their day to be apart has come. */
  isDue: boolean
  /** the stages a moult may lead into, by the number of that moult */
  stages: Choice[]
}

/** What can be recorded of a group. The bench stands above, since it is what a clutch is opened for. */
export function ClutchActions(props: ClutchActionProps) {
  const { clutch } = props
  return (
    <div className="no-print mt-5 flex flex-wrap gap-2">
      {clutch.together > 0 ? <RecordObservation {...props} /> : null}
      {clutch.together > 0 || !clutch.isCounted ? <RecordLoss {...props} /> : null}
      <Recount {...props} />
      {clutch.escaped > 0 ? <FoundAgain {...props} /> : null}
      <Correct {...props} />
      {clutch.together > 0 && !clutch.isInColony ? <Move {...props} /> : null}
      {clutch.together > 0 && props.boxes.length > 0 ? <IntoBox {...props} /> : null}
      {clutch.together > 0 && clutch.mayLiveTogether && !clutch.isInColony ? (
        <LinkButton href={`/w/${props.workspace}/colonies`}>Into a colony</LinkButton>
      ) : null}
    </div>
  )
}

function Recount({ workspace, today, clutch }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Count" title={`Count ${clutch.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`recount-${clutch.id}`}
          schema={newRecountFormSchema}
          action={recordRecountAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today }}
          onDone={() => {
            close()
            done('The count is recorded.')
          }}
          submitLabel="Record count"
        >
          <p className="text-small text-soft">
            {clutch.isCounted
              ? `${clutch.together} are together by the records. Those who are missing become unaccounted for.`
              : `About ${clutch.together} are together. Your count takes the place of that, and nobody is lost by it.`}
          </p>
          <FormNumber name="counted" label="Counted together" isWhole />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function FoundAgain({ workspace, today, clutch }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Found again" title="Found again" place="sheet">
      {({ close }) => (
        <RecordForm
          name={`found-${clutch.id}`}
          schema={foundAgainSchema}
          action={recordFoundAgainAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today, count: 1 }}
          onDone={() => {
            close()
            done('Back with the siblings.')
          }}
          submitLabel="Record it"
        >
          <FormNumber name="count" label="How many" isWhole hint={`${clutch.escaped} have escaped.`} />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Correct({ workspace, today, clutch }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Correct the hatch" title="Correct how many hatched" place="sheet">
      {({ close }) => (
        <RecordForm
          name={`correct-${clutch.id}`}
          schema={countCorrectionSchema}
          action={correctCountAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today, hatched: clutch.hatched }}
          onDone={() => {
            close()
            done('The number is put right.')
          }}
          submitLabel="Put it right"
        >
          <p className="text-small text-soft">
            For a hatch that was miscounted. Animals that have gone missing since are a matter of “Count”.
          </p>
          <FormNumber name="hatched" label="Hatched in all" isWhole />
          <FormDate name="on" label="Noticed on" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Move({ workspace, today, clutch, zones }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Move" title={`Move ${clutch.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`move-${clutch.id}`}
          schema={clutchMoveSchema}
          action={moveClutchAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today }}
          onDone={() => {
            close()
            done('The deadline follows the new warmth.')
          }}
          submitLabel="Move them"
        >
          <FormSelect
            name="zone"
            label="To"
            choices={zones.filter(({ value }) => value !== clutch.zoneId)}
            placeholder="Choose the zone"
          />
          <FormDate name="on" label="Since" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

'use client'

import { SheetDialog } from '@/components/care-sheet/sheet-dialog'
import { LinkButton } from '@/components/ui/link-button'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { MoveAnimals } from '../../_components/move-animals'
import { RecordFeeding } from '../../_components/record-feeding'
import { RecordLeaving } from '../../_components/record-leaving'
import { RecordMoult } from '../../_components/record-moult'
import { RecordSign } from '../../_components/record-sign'
import { SexAnimal } from './sex-animal'

/** What is done with an animal that is here; a moult is what this page is for. */
export function AnimalActions({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { animal, today, may, zones, kinds, outlook } = page
  const individuals = [animal.id]
  const isNymph = outlook !== null && !outlook.isAdult
  return (
    <>
      {may.write && isNymph ? <RecordMoult {...{ workspace, individuals, today }} kind="filled" /> : null}
      {may.write && isNymph ? <RecordSign {...{ workspace, individuals, today }} /> : null}
      {may.write ? <RecordFeeding {...{ workspace, individuals, today }} /> : null}
      {may.place ? <MoveAnimals {...{ workspace, individuals, today }} choices={{ zones, kinds }} /> : null}
      {may.write ? <SexAnimal workspace={workspace} animal={animal} /> : null}
      {may.print ? <SheetDialog {...{ workspace, individuals }} /> : null}
      {may.sell ? (
        <LinkButton href={`/w/${workspace}/sales/counter?codes=${animal.label}`}>Sell</LinkButton>
      ) : null}
      {may.place ? <RecordLeaving {...{ workspace, individuals, today }} /> : null}
    </>
  )
}

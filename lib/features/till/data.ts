import type { Price } from '@/lib/domain/price/price-list'
import {
  isOverridable,
  type OverridableCode,
  type OverrideRules,
  SAFE_OVERRIDES,
} from '@/lib/domain/role/overrides'
import type { PaperRow } from '@/lib/features/paper/schema'
import type { TaxRateRow } from '@/lib/features/tax-rate/data'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type TillRow = {
  pricesIncludeTax: boolean
  retentionYears: number
  receiptWords: string
  certifiedTill: boolean
  /** what may speak against leaving and be overridden there */
  counterOverrides: OverridableCode[]
  keeperOverrides: OverridableCode[]
  /** 0 while nothing was set */
  version: number
}

const UNSET: TillRow = {
  pricesIncludeTax: true,
  retentionYears: 0,
  receiptWords: '',
  certifiedTill: false,
  counterOverrides: [...SAFE_OVERRIDES.counter],
  keeperOverrides: [...SAFE_OVERRIDES.keeper],
  version: 0,
}

/** How this workspace sells, with what holds until somebody says otherwise. */
export async function loadTill(tx: Tx, workspaceId: WorkspaceId): Promise<TillRow> {
  const row = await tx.till.findUnique({
    where: { workspaceId },
    select: {
      pricesIncludeTax: true,
      retentionYears: true,
      receiptWords: true,
      certifiedTill: true,
      counterOverrides: true,
      keeperOverrides: true,
      version: true,
    },
  })
  if (!row) return UNSET
  const { counterOverrides, keeperOverrides, ...settings } = row
  return {
    ...settings,
    counterOverrides: counterOverrides.filter(isOverridable),
    keeperOverrides: keeperOverrides.filter(isOverridable),
  }
}

/** Who may let an animal go all the same. */
export const overrideRulesOf = ({ counterOverrides, keeperOverrides }: TillRow): OverrideRules => ({
  counter: counterOverrides,
  keeper: keeperOverrides,
})

/** What the counter prices with: how it sells, the rates of tax, and the list it proposes from. */
export type SellingTerms = TillRow & { rates: TaxRateRow[]; prices: Price[] }

type TermsRow = { till: TillRow | null; rates: TaxRateRow[]; prices: Price[] }

/** In one statement, as the counter asks for it with every cup. */
export async function loadSellingTerms(tx: Tx, workspaceId: WorkspaceId): Promise<SellingTerms> {
  const [row] = await tx.$queryRaw<TermsRow[]>`
    select (select json_build_object('pricesIncludeTax', t.prices_include_tax, 'retentionYears', t.retention_years,
          'receiptWords', t.receipt_words, 'certifiedTill', t.certified_till,
          'counterOverrides', t.counter_overrides, 'keeperOverrides', t.keeper_overrides, 'version', t.version)
        from till t where t.workspace_id = ${workspaceId}::uuid) as till,
      (select coalesce(json_agg(json_build_object('id', r.id, 'name', r.name, 'basisPoints', r.basis_points,
          'appliesTo', r.applies_to, 'version', r.version) order by r.basis_points desc, r.name), '[]')
        from tax_rate r where r.workspace_id = ${workspaceId}::uuid and r.archived_at is null) as rates,
      (select coalesce(json_agg(json_build_object('kind', e.kind, 'speciesId', e.species_id, 'moults', e.moults,
          'adult', e.adult, 'sex', e.sex, 'containerKindId', e.container_kind_id, 'preySlug', e.prey_slug,
          'priceMinor', e.price_minor)), '[]')
        from price_entry e join price_list l on l.workspace_id = e.workspace_id and l.id = e.list_id
        where e.workspace_id = ${workspaceId}::uuid and l.proposed and l.archived_at is null
          and e.price_minor is not null) as prices`
  return { ...(row?.till ?? UNSET), rates: row?.rates ?? [], prices: row?.prices ?? [] }
}

export type ReceiptFoot = {
  words: string
  buyer: { name: string; address: string } | null
  /** in which the buyer reads; empty where nobody asked */
  language: string
  /** that went with it, in the order in which they came */
  papers: PaperRow[]
}
type FootRow = Pick<ReceiptFoot, 'language' | 'papers'> & Record<'words' | 'name' | 'address', string | null>

/** What a receipt says besides the sale, in one statement. */
export async function loadReceiptFoot(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyer: buyerId, sale }: { buyer: string | null; sale: string },
): Promise<ReceiptFoot> {
  const rows = await tx.$queryRaw<FootRow[]>`
    select t.receipt_words as words, n.name, n.address,
      coalesce(nullif(o.language, ''), nullif(b.language, ''), '') as language,
      (select coalesce(json_agg(json_build_object('id', p.id, 'kind', p.kind, 'number', p.number, 'on', p.dated_on,
          'version', p.version, 'label', coalesce(i.label, e.label, '')) order by p.id), '[]')
        from paper p
        left join individual i on i.workspace_id = p.workspace_id and i.id = p.individual_id
        left join egg_case e on e.workspace_id = p.workspace_id and e.id = p.egg_case_id
        where p.workspace_id = ${workspaceId}::uuid and p.sale_id = ${sale}::uuid and p.archived_at is null) as papers
    from (select 1) one
    left join till t on t.workspace_id = ${workspaceId}::uuid
    left join buyer b on b.workspace_id = ${workspaceId}::uuid and b.id = ${buyerId}::uuid and b.erased_on is null
    left join buyer_person n on n.workspace_id = b.workspace_id and n.buyer_id = b.id
    left join customer_order o on o.workspace_id = ${workspaceId}::uuid and o.sale_id = ${sale}::uuid`
  const { words = '', name = null, address = null, language = '', papers = [] } = rows[0] ?? {}
  const buyer = name === null ? null : { name, address: address ?? '' }
  return { words: words ?? '', buyer, language, papers }
}

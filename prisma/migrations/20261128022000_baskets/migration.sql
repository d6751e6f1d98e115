-- CreateEnum
CREATE TYPE "sale_line_kind" AS ENUM ('animal', 'lot', 'egg_case', 'culture', 'container', 'pack', 'other');

-- CreateEnum
CREATE TYPE "payment_kind" AS ENUM ('cash', 'card', 'transfer', 'voucher', 'other');

-- AlterEnum
ALTER TYPE "egg_case_end" ADD VALUE 'sold';

-- AlterTable
ALTER TABLE "sale" ADD COLUMN     "certified_number" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "tax_included" BOOLEAN NOT NULL DEFAULT true;

-- AlterTable
ALTER TABLE "sale_line" ADD COLUMN     "clutch_id" UUID,
ADD COLUMN     "container_kind_id" UUID,
ADD COLUMN     "culture_id" UUID,
ADD COLUMN     "discount_minor" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "egg_case_id" UUID,
ADD COLUMN     "females" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "kind" "sale_line_kind" NOT NULL DEFAULT 'animal',
ADD COLUMN     "males" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "prey_slug" TEXT,
ADD COLUMN     "quantity" INTEGER NOT NULL DEFAULT 1,
ADD COLUMN     "returned" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "tax_basis_points" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "tax_minor" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "unit_price_minor" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "unsexed" INTEGER NOT NULL DEFAULT 0,
ALTER COLUMN "individual_id" DROP NOT NULL,
ALTER COLUMN "entry_id" DROP NOT NULL;

-- CreateTable
CREATE TABLE "sale_payment" (
    "workspace_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" "payment_kind" NOT NULL,
    "amount_minor" INTEGER NOT NULL,
    "given_minor" INTEGER,

    CONSTRAINT "sale_payment_pkey" PRIMARY KEY ("workspace_id","sale_id","number")
);

-- CreateTable
CREATE TABLE "sale_return" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "sale_id" UUID NOT NULL,
    "return_number" INTEGER NOT NULL,
    "on" DATE NOT NULL,
    "reason" TEXT NOT NULL,
    "refund_kind" "payment_kind",
    "refund_minor" INTEGER NOT NULL,
    "taken_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sale_return_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "sale_return_line" (
    "workspace_id" UUID NOT NULL,
    "return_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "line_number" INTEGER NOT NULL,
    "quantity" INTEGER NOT NULL,
    "refund_minor" INTEGER NOT NULL,
    "tax_minor" INTEGER NOT NULL,
    "restocked" BOOLEAN NOT NULL,

    CONSTRAINT "sale_return_line_pkey" PRIMARY KEY ("workspace_id","return_id","sale_id","line_number")
);

-- CreateTable
CREATE TABLE "tax_rate" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "basis_points" INTEGER NOT NULL,
    "applies_to" "sale_line_kind"[],
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "tax_rate_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "sale_return_sale_idx" ON "sale_return"("workspace_id", "sale_id");

-- CreateIndex
CREATE UNIQUE INDEX "sale_return_number_key" ON "sale_return"("workspace_id", "return_number");

-- CreateIndex
CREATE UNIQUE INDEX "tax_rate_name_key" ON "tax_rate"("workspace_id", "name") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE INDEX "sale_day_idx" ON "sale"("workspace_id", "on");

-- Receipts already written are completed and looked at past the row-level security that holds the owner too; the trail
-- of that is written as well.
ALTER TABLE sale NO FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_line NO FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_reversal NO FORCE ROW LEVEL SECURITY;
ALTER TABLE audit_entry NO FORCE ROW LEVEL SECURITY;
ALTER TABLE counter NO FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_return NO FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_return_line NO FORCE ROW LEVEL SECURITY;

UPDATE sale_line SET unit_price_minor = price_minor;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_culture_fkey" FOREIGN KEY ("workspace_id", "culture_id") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_container_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_prey_line_fkey" FOREIGN KEY ("workspace_id", "prey_slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_payment" ADD CONSTRAINT "sale_payment_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_return" ADD CONSTRAINT "sale_return_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_return" ADD CONSTRAINT "sale_return_taker_fkey" FOREIGN KEY ("workspace_id", "taken_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_return_line" ADD CONSTRAINT "sale_return_line_return_fkey" FOREIGN KEY ("workspace_id", "return_id") REFERENCES "sale_return"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_return_line" ADD CONSTRAINT "sale_return_line_line_fkey" FOREIGN KEY ("workspace_id", "sale_id", "line_number") REFERENCES "sale_line"("workspace_id", "sale_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "tax_rate" ADD CONSTRAINT "tax_rate_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- A receipt that was taken back whole has returned each of its lines.
INSERT INTO sale_return (workspace_id, sale_id, return_number, "on", reason, refund_minor, created_at)
  SELECT r.workspace_id, r.sale_id,
    row_number() OVER (PARTITION BY r.workspace_id ORDER BY r.created_at, r.sale_id), r."on", r.reason,
    s.total_minor, r.created_at
  FROM sale_reversal r JOIN sale s ON s.workspace_id = r.workspace_id AND s.id = r.sale_id;
INSERT INTO sale_return_line (workspace_id, return_id, sale_id, line_number, quantity, refund_minor, tax_minor, restocked)
  SELECT r.workspace_id, r.id, r.sale_id, l.number, l.quantity, l.price_minor, l.tax_minor, true
  FROM sale_return r JOIN sale_line l ON l.workspace_id = r.workspace_id AND l.sale_id = r.sale_id;
UPDATE sale_line l SET returned = l.quantity
  FROM sale_reversal r WHERE r.workspace_id = l.workspace_id AND r.sale_id = l.sale_id;
INSERT INTO counter (workspace_id, name, value)
  SELECT workspace_id, 'return', max(return_number) FROM sale_return GROUP BY workspace_id;

ALTER TABLE sale FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_line FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_reversal FORCE ROW LEVEL SECURITY;
ALTER TABLE audit_entry FORCE ROW LEVEL SECURITY;
ALTER TABLE counter FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_return FORCE ROW LEVEL SECURITY;
ALTER TABLE sale_return_line FORCE ROW LEVEL SECURITY;

CALL app.close_table('sale_payment');
CALL app.close_table('sale_return');
CALL app.close_table('sale_return_line');
CALL app.close_table('tax_rate');
GRANT SELECT, INSERT ON sale_payment, sale_return, sale_return_line TO oothecary_app;
GRANT SELECT, INSERT, UPDATE ON tax_rate TO oothecary_app;

-- A line came back so many times as its returns say. The row stays locked until the return is committed, so that the
-- same thing is never taken back twice, whoever asks at once.
CREATE FUNCTION app.return_line() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, public AS $$
BEGIN
  UPDATE public.sale_line SET returned = returned + NEW.quantity
    WHERE workspace_id = NEW.workspace_id AND sale_id = NEW.sale_id AND number = NEW.line_number;
  RETURN NULL;
END $$;
CREATE TRIGGER return_line AFTER INSERT ON sale_return_line FOR EACH ROW EXECUTE FUNCTION app.return_line();

ALTER TABLE sale_line
  ADD CONSTRAINT sale_line_amount CHECK (quantity > 0 AND unit_price_minor >= 0 AND discount_minor >= 0
    AND price_minor = quantity::bigint * unit_price_minor - discount_minor),
  ADD CONSTRAINT sale_line_tax CHECK (tax_basis_points BETWEEN 0 AND 10000 AND tax_minor >= 0),
  ADD CONSTRAINT sale_line_sexes CHECK (males >= 0 AND females >= 0 AND unsexed >= 0
    AND males + females + unsexed = CASE kind WHEN 'lot' THEN quantity ELSE 0 END),
  ADD CONSTRAINT sale_line_returned CHECK (returned BETWEEN 0 AND quantity),
  ADD CONSTRAINT sale_line_subject CHECK (CASE kind
    WHEN 'animal' THEN individual_id IS NOT NULL AND entry_id IS NOT NULL
    WHEN 'lot' THEN clutch_id IS NOT NULL AND entry_id IS NOT NULL
    WHEN 'egg_case' THEN egg_case_id IS NOT NULL
    WHEN 'culture' THEN culture_id IS NOT NULL
    WHEN 'container' THEN container_kind_id IS NOT NULL
    WHEN 'pack' THEN prey_slug IS NOT NULL
    ELSE true END);
ALTER TABLE sale_payment
  ADD CONSTRAINT sale_payment_amount CHECK (amount_minor > 0 AND given_minor >= amount_minor);
ALTER TABLE sale_return ADD CONSTRAINT sale_return_refund CHECK (refund_minor >= 0);
ALTER TABLE sale_return_line
  ADD CONSTRAINT sale_return_line_amount CHECK (quantity > 0 AND refund_minor >= 0 AND tax_minor BETWEEN 0 AND refund_minor);
ALTER TABLE tax_rate ADD CONSTRAINT tax_rate_range CHECK (basis_points BETWEEN 0 AND 10000);

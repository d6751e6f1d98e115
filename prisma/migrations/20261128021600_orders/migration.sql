-- CreateEnum
CREATE TYPE "order_way" AS ENUM ('sent', 'collected');

-- CreateEnum
CREATE TYPE "stage_taken" AS ENUM ('nymph', 'adult', 'either');

-- CreateEnum
CREATE TYPE "ordered_sex" AS ENUM ('male', 'female', 'any');

-- CreateEnum
CREATE TYPE "arrived_state" AS ENUM ('alive', 'hurt', 'dead');

-- CreateEnum
CREATE TYPE "claim_end" AS ENUM ('nothing', 'refund', 'replacement');

-- CreateTable
CREATE TABLE "customer_order" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "number" INTEGER NOT NULL,
    "way" "order_way" NOT NULL,
    "ordered_on" DATE NOT NULL,
    "not_before" DATE,
    "beginner" BOOLEAN NOT NULL DEFAULT false,
    "buyer_id" UUID,
    "country" TEXT NOT NULL DEFAULT '',
    "area" TEXT NOT NULL DEFAULT '',
    "transit_days" INTEGER NOT NULL,
    "depot" BOOLEAN NOT NULL DEFAULT false,
    "away_on" DATE[],
    "claim_hours" INTEGER NOT NULL,
    "language" TEXT NOT NULL DEFAULT '',
    "paid_on" DATE,
    "note" TEXT NOT NULL DEFAULT '',
    "left_on" DATE,
    "carrier" TEXT NOT NULL DEFAULT '',
    "sale_id" UUID,
    "warnings" JSONB,
    "arrived_at" TIMESTAMPTZ(3),
    "reported_at" TIMESTAMPTZ(3),
    "photographs" INTEGER NOT NULL DEFAULT 0,
    "arrival_note" TEXT NOT NULL DEFAULT '',
    "claim_end" "claim_end",
    "claim_end_on" DATE,
    "claim_note" TEXT NOT NULL DEFAULT '',
    "cancelled_on" DATE,
    "cancel_reason" TEXT NOT NULL DEFAULT '',
    "taken_by" UUID,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "customer_order_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "order_address" (
    "workspace_id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "name" TEXT NOT NULL DEFAULT '',
    "address" TEXT NOT NULL DEFAULT '',
    "phone" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "order_address_pkey" PRIMARY KEY ("workspace_id","order_id")
);

-- CreateTable
CREATE TABLE "order_line" (
    "workspace_id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "species_id" UUID NOT NULL,
    "sex" "ordered_sex" NOT NULL,
    "takes" "stage_taken" NOT NULL,
    "from_moults" INTEGER NOT NULL,
    "until_moults" INTEGER,
    "count" INTEGER NOT NULL,
    "price_minor" INTEGER NOT NULL,

    CONSTRAINT "order_line_pkey" PRIMARY KEY ("workspace_id","order_id","number")
);

-- CreateTable
CREATE TABLE "order_animal" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "order_id" UUID NOT NULL,
    "line_number" INTEGER NOT NULL,
    "individual_id" UUID NOT NULL,
    "chosen_on" DATE NOT NULL,
    "released_on" DATE,
    "arrived" "arrived_state",

    CONSTRAINT "order_animal_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "dispatch_rules" (
    "workspace_id" UUID NOT NULL,
    "weekdays" INTEGER[],
    "transit_days" INTEGER NOT NULL,
    "claim_hours" INTEGER NOT NULL,
    "keep_address_days" INTEGER NOT NULL,
    "area" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "dispatch_rules_pkey" PRIMARY KEY ("workspace_id")
);

-- CreateTable
CREATE TABLE "dispatch_closed_day" (
    "workspace_id" UUID NOT NULL,
    "country" TEXT NOT NULL,
    "on" DATE NOT NULL,
    "closed" BOOLEAN NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "dispatch_closed_day_pkey" PRIMARY KEY ("workspace_id","country","on")
);

-- CreateTable
CREATE TABLE "air_day" (
    "workspace_id" UUID NOT NULL,
    "area" TEXT NOT NULL,
    "on" DATE NOT NULL,
    "low_c" DOUBLE PRECISION NOT NULL,
    "high_c" DOUBLE PRECISION NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "air_day_pkey" PRIMARY KEY ("workspace_id","area","on")
);

-- CreateIndex
CREATE INDEX "customer_order_open_idx" ON "customer_order"("workspace_id", "id") WHERE (left_on IS NULL AND cancelled_on IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "customer_order_number_key" ON "customer_order"("workspace_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "customer_order_sale_key" ON "customer_order"("workspace_id", "sale_id");

-- CreateIndex
CREATE INDEX "order_animal_order_idx" ON "order_animal"("workspace_id", "order_id");

-- CreateIndex
CREATE UNIQUE INDEX "order_animal_taken_once" ON "order_animal"("workspace_id", "individual_id") WHERE (released_on IS NULL);

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_buyer_fkey" FOREIGN KEY ("workspace_id", "buyer_id") REFERENCES "buyer"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_taker_fkey" FOREIGN KEY ("workspace_id", "taken_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "customer_order" ADD CONSTRAINT "customer_order_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_address" ADD CONSTRAINT "order_address_order_fkey" FOREIGN KEY ("workspace_id", "order_id") REFERENCES "customer_order"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_order_fkey" FOREIGN KEY ("workspace_id", "order_id") REFERENCES "customer_order"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_line" ADD CONSTRAINT "order_line_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_animal" ADD CONSTRAINT "order_animal_line_fkey" FOREIGN KEY ("workspace_id", "order_id", "line_number") REFERENCES "order_line"("workspace_id", "order_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_animal" ADD CONSTRAINT "order_animal_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dispatch_rules" ADD CONSTRAINT "dispatch_rules_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dispatch_closed_day" ADD CONSTRAINT "dispatch_closed_day_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "air_day" ADD CONSTRAINT "air_day_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
CALL app.close_table('customer_order');
CALL app.close_table('order_line');
CALL app.close_table('order_animal');
CALL app.close_table('dispatch_rules');
CALL app.close_table('dispatch_closed_day');
CALL app.close_table('air_day');
-- Where somebody lives is not kept longer than it is needed, so the trail never learns it.
CALL app.close_table('order_address', false);

GRANT SELECT, INSERT, UPDATE ON
  customer_order, order_address, order_animal, dispatch_rules, dispatch_closed_day, air_day TO oothecary_app;
-- A split takes places away from a line, and nothing else of it ever changes.
GRANT SELECT, INSERT, UPDATE (count) ON order_line TO oothecary_app;

ALTER TABLE customer_order
  ADD CONSTRAINT customer_order_extent CHECK
    (transit_days BETWEEN 0 AND 4 AND claim_hours BETWEEN 1 AND 240 AND photographs BETWEEN 0 AND 100),
  ADD CONSTRAINT customer_order_days CHECK
    (left_on >= ordered_on AND cancelled_on >= ordered_on AND reported_at >= arrived_at AND claim_end_on >= left_on),
  ADD CONSTRAINT customer_order_ends_once CHECK (num_nonnulls(left_on, cancelled_on) <= 1),
  ADD CONSTRAINT customer_order_left_sold CHECK (left_on IS NULL OR sale_id IS NOT NULL),
  ADD CONSTRAINT customer_order_arrives_after CHECK
    (arrived_at IS NULL OR (left_on IS NOT NULL AND reported_at IS NOT NULL)),
  ADD CONSTRAINT customer_order_claim_complete CHECK
    (num_nulls(claim_end, claim_end_on) IN (0, 2) AND (claim_end IS NULL OR arrived_at IS NOT NULL));
ALTER TABLE order_line
  ADD CONSTRAINT order_line_extent CHECK (number > 0 AND count BETWEEN 0 AND 200 AND price_minor >= 0),
  ADD CONSTRAINT order_line_stage CHECK (from_moults >= 0 AND coalesce(until_moults, from_moults) >= from_moults);
ALTER TABLE order_animal
  ADD CONSTRAINT order_animal_days CHECK (released_on >= chosen_on);
ALTER TABLE dispatch_rules
  ADD CONSTRAINT dispatch_rules_range CHECK
    (cardinality(weekdays) BETWEEN 1 AND 7 AND weekdays <@ '{1,2,3,4,5,6,7}' AND transit_days BETWEEN 0 AND 4
     AND claim_hours BETWEEN 1 AND 240 AND keep_address_days BETWEEN 0 AND 400);
ALTER TABLE air_day ADD CONSTRAINT air_day_range CHECK (low_c BETWEEN -60 AND 60 AND high_c BETWEEN low_c AND 60);

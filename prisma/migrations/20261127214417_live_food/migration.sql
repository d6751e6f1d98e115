-- CreateEnum
CREATE TYPE "culture_end" AS ENUM ('discarded', 'sold');

-- CreateEnum
CREATE TYPE "harvest_measure" AS ENUM ('about', 'weighed', 'counted');

-- CreateEnum
CREATE TYPE "closed_side" AS ENUM ('room', 'supplier');

-- CreateEnum
CREATE TYPE "food_plan_state" AS ENUM ('waiting', 'running', 'done', 'failed');

-- CreateEnum
CREATE TYPE "prey_leaving" AS ENUM ('sold', 'fed_out', 'wasted');

-- CreateTable
CREATE TABLE "culture" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "label" TEXT NOT NULL,
    "slug" TEXT NOT NULL,
    "zone_id" UUID NOT NULL,
    "shelf" TEXT NOT NULL DEFAULT '',
    "started_on" DATE NOT NULL,
    "starters_from" UUID,
    "bought" BOOLEAN NOT NULL DEFAULT false,
    "crashed_on" DATE,
    "mites_on" DATE,
    "mould_on" DATE,
    "ended_on" DATE,
    "end" "culture_end",
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "culture_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "harvest" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "culture_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "count" INTEGER NOT NULL,
    "low" INTEGER,
    "high" INTEGER,
    "measure" "harvest_measure" NOT NULL,
    "harvested_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "harvest_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "food_limits" (
    "workspace_id" UUID NOT NULL,
    "shelf_places" INTEGER,
    "minutes_per_start_day" INTEGER,
    "start_weekdays" INTEGER[],
    "service_level" DOUBLE PRECISION NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "food_limits_pkey" PRIMARY KEY ("workspace_id")
);

-- CreateTable
CREATE TABLE "food_closed_day" (
    "workspace_id" UUID NOT NULL,
    "side" "closed_side" NOT NULL,
    "on" DATE NOT NULL,
    "closed" BOOLEAN NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "food_closed_day_pkey" PRIMARY KEY ("workspace_id","side","on")
);

-- CreateTable
CREATE TABLE "food_plan" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "state" "food_plan_state" NOT NULL DEFAULT 'waiting',
    "question" JSONB NOT NULL,
    "is_trial" BOOLEAN NOT NULL,
    "from_on" DATE NOT NULL,
    "weeks" INTEGER NOT NULL,
    "progress" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "answer" JSONB,
    "failure" TEXT NOT NULL DEFAULT '',
    "asked_by" UUID,
    "started_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "food_plan_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "prey_line" (
    "workspace_id" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "kept" BOOLEAN NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "prey_line_pkey" PRIMARY KEY ("workspace_id","slug")
);

-- CreateTable
CREATE TABLE "prey_line_version" (
    "workspace_id" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "content" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "prey_line_version_pkey" PRIMARY KEY ("workspace_id","slug","number")
);

-- CreateTable
CREATE TABLE "prey_order" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "slug" TEXT NOT NULL,
    "packs" INTEGER NOT NULL,
    "pack_size" INTEGER NOT NULL,
    "ordered_on" DATE NOT NULL,
    "due_on" DATE NOT NULL,
    "arrived_on" DATE,
    "cancelled_on" DATE,
    "cost_minor" INTEGER,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "prey_order_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "prey_count" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "slug" TEXT NOT NULL,
    "on" DATE NOT NULL,
    "count" INTEGER NOT NULL,
    "counted_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "prey_count_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "prey_departure" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "slug" TEXT NOT NULL,
    "on" DATE NOT NULL,
    "count" INTEGER NOT NULL,
    "how" "prey_leaving" NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "prey_departure_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "other_mouth" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "slug" TEXT NOT NULL,
    "items_each_time" INTEGER NOT NULL,
    "weekdays" INTEGER[],
    "from_on" DATE,
    "until_on" DATE,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "other_mouth_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "culture_line_idx" ON "culture"("workspace_id", "slug", "started_on");

-- CreateIndex
CREATE INDEX "culture_starters_idx" ON "culture"("workspace_id", "starters_from");

-- CreateIndex
CREATE UNIQUE INDEX "culture_label_key" ON "culture"("workspace_id", "label");

-- CreateIndex
CREATE INDEX "harvest_culture_idx" ON "harvest"("workspace_id", "culture_id", "on");

-- CreateIndex
CREATE INDEX "food_plan_created_idx" ON "food_plan"("workspace_id", "created_at");

-- CreateIndex
CREATE INDEX "prey_order_line_idx" ON "prey_order"("workspace_id", "slug", "due_on");

-- CreateIndex
CREATE INDEX "prey_count_line_idx" ON "prey_count"("workspace_id", "slug", "on");

-- CreateIndex
CREATE INDEX "prey_departure_line_idx" ON "prey_departure"("workspace_id", "slug", "on");

-- CreateIndex
CREATE INDEX "other_mouth_line_idx" ON "other_mouth"("workspace_id", "slug");

-- AddForeignKey
ALTER TABLE "culture" ADD CONSTRAINT "culture_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "culture" ADD CONSTRAINT "culture_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "culture" ADD CONSTRAINT "culture_starters_fkey" FOREIGN KEY ("workspace_id", "starters_from") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "harvest" ADD CONSTRAINT "harvest_culture_fkey" FOREIGN KEY ("workspace_id", "culture_id") REFERENCES "culture"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "harvest" ADD CONSTRAINT "harvest_harvester_fkey" FOREIGN KEY ("workspace_id", "harvested_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "food_limits" ADD CONSTRAINT "food_limits_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "food_closed_day" ADD CONSTRAINT "food_closed_day_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "food_plan" ADD CONSTRAINT "food_plan_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "food_plan" ADD CONSTRAINT "food_plan_asker_fkey" FOREIGN KEY ("workspace_id", "asked_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_line" ADD CONSTRAINT "prey_line_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_line_version" ADD CONSTRAINT "prey_line_version_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_order" ADD CONSTRAINT "prey_order_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_count" ADD CONSTRAINT "prey_count_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_count" ADD CONSTRAINT "prey_count_counter_fkey" FOREIGN KEY ("workspace_id", "counted_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "prey_departure" ADD CONSTRAINT "prey_departure_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "other_mouth" ADD CONSTRAINT "other_mouth_line_fkey" FOREIGN KEY ("workspace_id", "slug") REFERENCES "prey_line"("workspace_id", "slug") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
CALL app.close_table('prey_line');
CALL app.close_table('prey_line_version');
CALL app.close_table('prey_order');
CALL app.close_table('prey_count');
CALL app.close_table('prey_departure');
CALL app.close_table('other_mouth');
CALL app.close_table('culture');
CALL app.close_table('harvest');
CALL app.close_table('food_limits');
CALL app.close_table('food_closed_day');
-- A plan is worked out from the records and its progress is written again and again: the trail says nothing new of it.
CALL app.close_table('food_plan', false);

GRANT SELECT, INSERT, UPDATE ON
  prey_line, prey_order, other_mouth, culture, harvest, food_limits, food_closed_day, food_plan
  TO oothecary_app;
GRANT SELECT, INSERT ON prey_line_version, prey_count, prey_departure TO oothecary_app;

ALTER TABLE prey_line_version ADD CONSTRAINT prey_line_version_number CHECK (number > 0);
ALTER TABLE prey_order
  ADD CONSTRAINT prey_order_packs CHECK (packs > 0 AND pack_size > 0 AND cost_minor >= 0),
  ADD CONSTRAINT prey_order_days CHECK
    (due_on >= ordered_on AND arrived_on >= ordered_on AND cancelled_on >= ordered_on),
  ADD CONSTRAINT prey_order_settled_once CHECK (num_nonnulls(arrived_on, cancelled_on) <= 1);
ALTER TABLE prey_count ADD CONSTRAINT prey_count_count CHECK (count >= 0);
ALTER TABLE prey_departure ADD CONSTRAINT prey_departure_count CHECK (count > 0);
ALTER TABLE other_mouth
  ADD CONSTRAINT other_mouth_items CHECK
    (items_each_time > 0 AND cardinality(weekdays) BETWEEN 1 AND 7 AND weekdays <@ '{1,2,3,4,5,6,7}'),
  ADD CONSTRAINT other_mouth_days CHECK (until_on >= from_on);
ALTER TABLE culture
  ADD CONSTRAINT culture_end_complete CHECK ((ended_on IS NULL) = ("end" IS NULL)),
  ADD CONSTRAINT culture_days CHECK
    (ended_on >= started_on AND crashed_on >= started_on AND mites_on >= started_on AND mould_on >= started_on),
  ADD CONSTRAINT culture_starters CHECK (starters_from <> id AND NOT (bought AND starters_from IS NOT NULL));
ALTER TABLE harvest
  ADD CONSTRAINT harvest_range CHECK (count >= 0 AND coalesce(low, count) BETWEEN 0 AND count AND coalesce(high, count) >= count);
ALTER TABLE food_limits
  ADD CONSTRAINT food_limits_range CHECK
    (service_level BETWEEN 0.5 AND 0.999 AND shelf_places BETWEEN 0 AND 5000
     AND minutes_per_start_day BETWEEN 0 AND 1440 AND start_weekdays <@ '{1,2,3,4,5,6,7}');
ALTER TABLE food_plan
  ADD CONSTRAINT food_plan_extent CHECK (weeks BETWEEN 1 AND 26 AND progress BETWEEN 0 AND 1);

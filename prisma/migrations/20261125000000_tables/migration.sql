-- CreateEnum
CREATE TYPE "head_count_state" AS ENUM ('uncounted', 'together', 'single', 'sold', 'given_away', 'dead', 'escaped', 'unaccounted');

-- CreateEnum
CREATE TYPE "loss_cause" AS ENUM ('bad_moult', 'eaten_by_sibling', 'eaten_by_mate', 'drowned', 'dried_out', 'starved', 'fell', 'hurt_by_prey', 'heat', 'cold', 'parasite', 'transit', 'old_age', 'killed', 'unknown');

-- CreateEnum
CREATE TYPE "egg_case_end" AS ENUM ('spent', 'infertile', 'wasps', 'discarded', 'given_away');

-- CreateEnum
CREATE TYPE "sex" AS ENUM ('male', 'female', 'unsexed');

-- CreateEnum
CREATE TYPE "sex_certainty" AS ENUM ('none', 'probable', 'certain');

-- CreateEnum
CREATE TYPE "origin" AS ENUM ('bred', 'bought', 'wild');

-- CreateEnum
CREATE TYPE "moult_outcome" AS ENUM ('good', 'bad', 'lost_limb');

-- CreateEnum
CREATE TYPE "species_kind" AS ENUM ('mantis', 'other');

-- CreateEnum
CREATE TYPE "role" AS ENUM ('owner', 'keeper', 'counter', 'viewer');

-- CreateEnum
CREATE TYPE "instar_convention" AS ENUM ('hatchling_is_first', 'hatchling_is_second');

-- CreateEnum
CREATE TYPE "instar_style" AS ENUM ('ordinal', 'l_number');

-- CreateEnum
CREATE TYPE "temperature_unit" AS ENUM ('celsius', 'fahrenheit');

-- CreateEnum
CREATE TYPE "length_unit" AS ENUM ('millimetre', 'inch');

-- CreateTable
CREATE TABLE "care_sheet" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "species_id" UUID NOT NULL,
    "profile_number" INTEGER NOT NULL,
    "public_link_id" UUID NOT NULL,
    "language" TEXT NOT NULL,
    "paper" TEXT NOT NULL,
    "printed_on" DATE NOT NULL,
    "printed_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "care_sheet_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "public_link" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "generation" INTEGER NOT NULL DEFAULT 1,
    "token_hash" BYTEA NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "public_link_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "clutch" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "label" TEXT NOT NULL,
    "species_id" UUID NOT NULL,
    "hatched_on" DATE NOT NULL,
    "counted" BOOLEAN NOT NULL DEFAULT false,
    "hatched_low" INTEGER,
    "hatched_high" INTEGER,
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "clutch_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "head_count" (
    "workspace_id" UUID NOT NULL,
    "clutch_id" UUID NOT NULL,
    "hatched" INTEGER NOT NULL DEFAULT 0,
    "together" INTEGER NOT NULL DEFAULT 0,
    "single" INTEGER NOT NULL DEFAULT 0,
    "sold" INTEGER NOT NULL DEFAULT 0,
    "given_away" INTEGER NOT NULL DEFAULT 0,
    "dead" INTEGER NOT NULL DEFAULT 0,
    "escaped" INTEGER NOT NULL DEFAULT 0,
    "unaccounted" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "head_count_pkey" PRIMARY KEY ("workspace_id","clutch_id")
);

-- CreateTable
CREATE TABLE "head_count_entry" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "clutch_id" UUID,
    "individual_id" UUID,
    "from" "head_count_state" NOT NULL,
    "to" "head_count_state" NOT NULL,
    "count" INTEGER NOT NULL,
    "on" DATE NOT NULL,
    "cause" "loss_cause",
    "note" TEXT NOT NULL DEFAULT '',
    "reverses" UUID,
    "separation_id" UUID,
    "recorded_by" UUID,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "head_count_entry_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "clutch_housing" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "clutch_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "container_id" UUID,
    "from_on" DATE NOT NULL,
    "until_on" DATE,

    CONSTRAINT "clutch_housing_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "separation" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "clutch_id" UUID NOT NULL,
    "container_kind_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "planned" INTEGER NOT NULL,
    "first_number" INTEGER NOT NULL,
    "finished_at" TIMESTAMPTZ(3),
    "started_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "separation_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "container_kind" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "volume_ml" INTEGER NOT NULL,
    "inner_height_mm" INTEGER NOT NULL,
    "inner_width_mm" INTEGER NOT NULL,
    "single" BOOLEAN NOT NULL,
    "stock" INTEGER NOT NULL,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "container_kind_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "container_kind_order" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "container_kind_id" UUID NOT NULL,
    "count" INTEGER NOT NULL,
    "expected_on" DATE NOT NULL,
    "arrived_on" DATE,

    CONSTRAINT "container_kind_order_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "container" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "container_kind_id" UUID NOT NULL,
    "single" BOOLEAN NOT NULL,
    "emptied_on" DATE,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "container_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "egg_case" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "label" TEXT NOT NULL,
    "species_id" UUID NOT NULL,
    "laid_on" DATE,
    "laid_from" DATE,
    "laid_until" DATE,
    "received_on" DATE,
    "mother_id" UUID,
    "supplier" TEXT NOT NULL DEFAULT '',
    "lot" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "rest_start_on" DATE,
    "rest_planned_end_on" DATE,
    "rest_ended_on" DATE,
    "ended_on" DATE,
    "end" "egg_case_end",
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "egg_case_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "egg_case_stay" (
    "workspace_id" UUID NOT NULL,
    "egg_case_id" UUID NOT NULL,
    "from_on" DATE NOT NULL,
    "zone_id" UUID NOT NULL,
    "until_on" DATE,

    CONSTRAINT "egg_case_stay_pkey" PRIMARY KEY ("workspace_id","egg_case_id","from_on")
);

-- CreateTable
CREATE TABLE "hatch" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "egg_case_id" UUID NOT NULL,
    "clutch_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "likely" INTEGER NOT NULL,
    "low" INTEGER,
    "high" INTEGER,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "hatch_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "individual" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "label" TEXT NOT NULL,
    "species_id" UUID NOT NULL,
    "clutch_id" UUID,
    "whereabouts" "head_count_state" NOT NULL,
    "origin" "origin" NOT NULL DEFAULT 'bred',
    "sex" "sex" NOT NULL DEFAULT 'unsexed',
    "sex_certainty" "sex_certainty" NOT NULL DEFAULT 'none',
    "baseline_on" DATE NOT NULL,
    "baseline_moults" INTEGER NOT NULL,
    "baseline_last_moult_on" DATE,
    "adult_since_on" DATE,
    "mated" BOOLEAN,
    "supplier" TEXT NOT NULL DEFAULT '',
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "individual_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "moult" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "on" DATE NOT NULL,
    "seen_from" DATE,
    "outcome" "moult_outcome" NOT NULL DEFAULT 'good',
    "final" BOOLEAN NOT NULL DEFAULT false,
    "note" TEXT NOT NULL DEFAULT '',
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "moult_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "housing" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "single" BOOLEAN NOT NULL,
    "zone_id" UUID NOT NULL,
    "from_on" DATE NOT NULL,
    "until_on" DATE,

    CONSTRAINT "housing_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "feeding" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "ate" BOOLEAN NOT NULL,
    "prey" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "feeding_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "email" CITEXT NOT NULL,
    "name" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "login_session" (
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "person_id" UUID NOT NULL,
    "id_hash" BYTEA NOT NULL,
    "device" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "login_session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "throttle" (
    "key" TEXT NOT NULL,
    "points" INTEGER NOT NULL DEFAULT 0,
    "expire" BIGINT,

    CONSTRAINT "throttle_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "sale" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "receipt_number" INTEGER NOT NULL,
    "on" DATE NOT NULL,
    "currency" TEXT NOT NULL,
    "total_minor" INTEGER NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "sold_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sale_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "sale_line" (
    "workspace_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "individual_id" UUID NOT NULL,
    "entry_id" UUID NOT NULL,
    "description" TEXT NOT NULL,
    "price_minor" INTEGER NOT NULL,
    "override_reason" TEXT NOT NULL DEFAULT '',
    "warnings" JSONB NOT NULL,

    CONSTRAINT "sale_line_pkey" PRIMARY KEY ("workspace_id","sale_id","number")
);

-- CreateTable
CREATE TABLE "sale_reversal" (
    "workspace_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "reason" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sale_reversal_pkey" PRIMARY KEY ("workspace_id","sale_id")
);

-- CreateTable
CREATE TABLE "species" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "slug" TEXT NOT NULL,
    "scientific_name" TEXT NOT NULL,
    "common_name" TEXT NOT NULL DEFAULT '',
    "kind" "species_kind" NOT NULL DEFAULT 'mantis',
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "species_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "care_profile" (
    "workspace_id" UUID NOT NULL,
    "species_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "content" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "care_profile_pkey" PRIMARY KEY ("workspace_id","species_id","number")
);

-- CreateTable
CREATE TABLE "workspace" (
    "workspace_id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "slug" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "instar_convention" "instar_convention" NOT NULL DEFAULT 'hatchling_is_first',
    "instar_style" "instar_style" NOT NULL DEFAULT 'ordinal',
    "temperature_unit" "temperature_unit" NOT NULL DEFAULT 'celsius',
    "length_unit" "length_unit" NOT NULL DEFAULT 'millimetre',
    "contact" TEXT NOT NULL DEFAULT '',
    "claim_terms" TEXT NOT NULL DEFAULT '',
    "label_key" INTEGER NOT NULL,
    "demo_anchor_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "workspace_pkey" PRIMARY KEY ("workspace_id")
);

-- CreateTable
CREATE TABLE "workspace_slug" (
    "slug" TEXT NOT NULL,
    "workspace_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "workspace_slug_pkey" PRIMARY KEY ("slug")
);

-- CreateTable
CREATE TABLE "membership" (
    "workspace_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role" "role" NOT NULL,
    "display_name" TEXT NOT NULL,
    "email" CITEXT NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "membership_pkey" PRIMARY KEY ("workspace_id","person_id")
);

-- CreateTable
CREATE TABLE "invitation" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "email" CITEXT NOT NULL,
    "role" "role" NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "invited_by" UUID NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "accepted_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "api_token" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "role" "role" NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "person_id" UUID NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "api_token_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "counter" (
    "workspace_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "value" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "counter_pkey" PRIMARY KEY ("workspace_id","name")
);

-- CreateTable
CREATE TABLE "operation" (
    "workspace_id" UUID NOT NULL,
    "id" TEXT NOT NULL,
    "request_hash" BYTEA NOT NULL,
    "answer" JSONB,
    "person_id" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "operation_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "audit_entry" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "at" TIMESTAMPTZ(6) NOT NULL DEFAULT clock_timestamp(),
    "table_name" TEXT NOT NULL,
    "change" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "person_id" UUID,
    "api_token_id" UUID,

    CONSTRAINT "audit_entry_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "mail_message" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "to_address" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "invitation_id" UUID,
    "sent_at" TIMESTAMPTZ(3),
    "failure" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "mail_message_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "zone" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "walking_order" INTEGER NOT NULL DEFAULT 0,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "zone_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "zone_set_point" (
    "workspace_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "from_on" DATE NOT NULL,
    "day_c" DOUBLE PRECISION NOT NULL,
    "night_c" DOUBLE PRECISION,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "zone_set_point_pkey" PRIMARY KEY ("workspace_id","zone_id","from_on")
);

-- CreateIndex
CREATE INDEX "care_sheet_individual_idx" ON "care_sheet"("workspace_id", "individual_id");

-- CreateIndex
CREATE UNIQUE INDEX "public_link_token_hash_key" ON "public_link"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "public_link_individual_key" ON "public_link"("workspace_id", "individual_id");

-- CreateIndex
CREATE INDEX "clutch_species_idx" ON "clutch"("workspace_id", "species_id");

-- CreateIndex
CREATE UNIQUE INDEX "clutch_label_key" ON "clutch"("workspace_id", "label");

-- CreateIndex
CREATE INDEX "head_count_entry_clutch_idx" ON "head_count_entry"("workspace_id", "clutch_id", "on");

-- CreateIndex
CREATE INDEX "head_count_entry_individual_idx" ON "head_count_entry"("workspace_id", "individual_id");

-- CreateIndex
CREATE INDEX "head_count_entry_separation_idx" ON "head_count_entry"("workspace_id", "separation_id");

-- CreateIndex
CREATE UNIQUE INDEX "head_count_entry_reversed_once" ON "head_count_entry"("workspace_id", "reverses");

-- CreateIndex
CREATE INDEX "clutch_housing_clutch_idx" ON "clutch_housing"("workspace_id", "clutch_id");

-- CreateIndex
CREATE INDEX "clutch_housing_zone_idx" ON "clutch_housing"("workspace_id", "zone_id");

-- CreateIndex
CREATE INDEX "separation_clutch_idx" ON "separation"("workspace_id", "clutch_id");

-- CreateIndex
CREATE UNIQUE INDEX "container_kind_single_key" ON "container_kind"("workspace_id", "id", "single");

-- CreateIndex
CREATE UNIQUE INDEX "container_kind_name_key" ON "container_kind"("workspace_id", "name") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE INDEX "container_kind_order_kind_idx" ON "container_kind_order"("workspace_id", "container_kind_id");

-- CreateIndex
CREATE INDEX "container_kind_idx" ON "container"("workspace_id", "container_kind_id") WHERE (emptied_on IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "container_single_key" ON "container"("workspace_id", "id", "single");

-- CreateIndex
CREATE INDEX "egg_case_species_idx" ON "egg_case"("workspace_id", "species_id");

-- CreateIndex
CREATE UNIQUE INDEX "egg_case_label_key" ON "egg_case"("workspace_id", "label");

-- CreateIndex
CREATE INDEX "egg_case_stay_zone_idx" ON "egg_case_stay"("workspace_id", "zone_id");

-- CreateIndex
CREATE INDEX "hatch_egg_case_idx" ON "hatch"("workspace_id", "egg_case_id");

-- CreateIndex
CREATE INDEX "hatch_clutch_idx" ON "hatch"("workspace_id", "clutch_id");

-- CreateIndex
CREATE INDEX "individual_clutch_idx" ON "individual"("workspace_id", "clutch_id");

-- CreateIndex
CREATE INDEX "individual_at_home_idx" ON "individual"("workspace_id", "species_id", "id") WHERE (whereabouts = 'single'::head_count_state);

-- CreateIndex
CREATE UNIQUE INDEX "individual_label_key" ON "individual"("workspace_id", "label");

-- CreateIndex
CREATE INDEX "moult_individual_idx" ON "moult"("workspace_id", "individual_id");

-- CreateIndex
CREATE UNIQUE INDEX "moult_number_once" ON "moult"("workspace_id", "individual_id", "number") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE INDEX "housing_individual_idx" ON "housing"("workspace_id", "individual_id");

-- CreateIndex
CREATE INDEX "housing_zone_idx" ON "housing"("workspace_id", "zone_id") WHERE (until_on IS NULL);

-- CreateIndex
CREATE INDEX "feeding_individual_idx" ON "feeding"("workspace_id", "individual_id", "on");

-- CreateIndex
CREATE UNIQUE INDEX "person_email_key" ON "person"("email");

-- CreateIndex
CREATE UNIQUE INDEX "login_session_id_hash_key" ON "login_session"("id_hash");

-- CreateIndex
CREATE INDEX "login_session_person_idx" ON "login_session"("person_id");

-- CreateIndex
CREATE UNIQUE INDEX "sale_receipt_number_key" ON "sale"("workspace_id", "receipt_number");

-- CreateIndex
CREATE INDEX "sale_line_individual_idx" ON "sale_line"("workspace_id", "individual_id");

-- CreateIndex
CREATE UNIQUE INDEX "species_slug_key" ON "species"("workspace_id", "slug");

-- CreateIndex
CREATE INDEX "workspace_slug_workspace_idx" ON "workspace_slug"("workspace_id");

-- CreateIndex
CREATE UNIQUE INDEX "invitation_token_hash_key" ON "invitation"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "api_token_token_hash_key" ON "api_token"("token_hash");

-- CreateIndex
CREATE INDEX "audit_entry_table_idx" ON "audit_entry"("workspace_id", "table_name", "at");

-- CreateIndex
CREATE UNIQUE INDEX "zone_name_key" ON "zone"("workspace_id", "name") WHERE (archived_at IS NULL);

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_profile_fkey" FOREIGN KEY ("workspace_id", "species_id", "profile_number") REFERENCES "care_profile"("workspace_id", "species_id", "number") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_public_link_fkey" FOREIGN KEY ("workspace_id", "public_link_id") REFERENCES "public_link"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_sheet" ADD CONSTRAINT "care_sheet_printer_fkey" FOREIGN KEY ("workspace_id", "printed_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "public_link" ADD CONSTRAINT "public_link_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch" ADD CONSTRAINT "clutch_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count" ADD CONSTRAINT "head_count_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_reverses_fkey" FOREIGN KEY ("workspace_id", "reverses") REFERENCES "head_count_entry"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_separation_fkey" FOREIGN KEY ("workspace_id", "separation_id") REFERENCES "separation"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "head_count_entry" ADD CONSTRAINT "head_count_entry_recorder_fkey" FOREIGN KEY ("workspace_id", "recorded_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch_housing" ADD CONSTRAINT "clutch_housing_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch_housing" ADD CONSTRAINT "clutch_housing_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch_housing" ADD CONSTRAINT "clutch_housing_container_fkey" FOREIGN KEY ("workspace_id", "container_id") REFERENCES "container"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "separation" ADD CONSTRAINT "separation_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "separation" ADD CONSTRAINT "separation_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "separation" ADD CONSTRAINT "separation_starter_fkey" FOREIGN KEY ("workspace_id", "started_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container_kind" ADD CONSTRAINT "container_kind_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container_kind_order" ADD CONSTRAINT "container_kind_order_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id") REFERENCES "container_kind"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container" ADD CONSTRAINT "container_kind_fkey" FOREIGN KEY ("workspace_id", "container_kind_id", "single") REFERENCES "container_kind"("workspace_id", "id", "single") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "egg_case" ADD CONSTRAINT "egg_case_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "egg_case" ADD CONSTRAINT "egg_case_mother_fkey" FOREIGN KEY ("workspace_id", "mother_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "egg_case_stay" ADD CONSTRAINT "egg_case_stay_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "egg_case_stay" ADD CONSTRAINT "egg_case_stay_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hatch" ADD CONSTRAINT "hatch_egg_case_fkey" FOREIGN KEY ("workspace_id", "egg_case_id") REFERENCES "egg_case"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "hatch" ADD CONSTRAINT "hatch_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "individual" ADD CONSTRAINT "individual_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "individual" ADD CONSTRAINT "individual_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "moult" ADD CONSTRAINT "moult_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "housing" ADD CONSTRAINT "housing_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "housing" ADD CONSTRAINT "housing_container_fkey" FOREIGN KEY ("workspace_id", "container_id", "single") REFERENCES "container"("workspace_id", "id", "single") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "housing" ADD CONSTRAINT "housing_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "feeding" ADD CONSTRAINT "feeding_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "login_session" ADD CONSTRAINT "login_session_person_fkey" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale" ADD CONSTRAINT "sale_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale" ADD CONSTRAINT "sale_seller_fkey" FOREIGN KEY ("workspace_id", "sold_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_line" ADD CONSTRAINT "sale_line_entry_fkey" FOREIGN KEY ("workspace_id", "entry_id") REFERENCES "head_count_entry"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sale_reversal" ADD CONSTRAINT "sale_reversal_sale_fkey" FOREIGN KEY ("workspace_id", "sale_id") REFERENCES "sale"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "species" ADD CONSTRAINT "species_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "care_profile" ADD CONSTRAINT "care_profile_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "workspace_slug" ADD CONSTRAINT "workspace_slug_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "membership" ADD CONSTRAINT "membership_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_inviter_fkey" FOREIGN KEY ("workspace_id", "invited_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "api_token" ADD CONSTRAINT "api_token_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "counter" ADD CONSTRAINT "counter_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "operation" ADD CONSTRAINT "operation_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "operation" ADD CONSTRAINT "operation_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "audit_entry" ADD CONSTRAINT "audit_entry_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "audit_entry" ADD CONSTRAINT "audit_entry_person_fkey" FOREIGN KEY ("workspace_id", "person_id") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_message_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "mail_message" ADD CONSTRAINT "mail_message_invitation_fkey" FOREIGN KEY ("workspace_id", "invitation_id") REFERENCES "invitation"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone" ADD CONSTRAINT "zone_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "zone_set_point" ADD CONSTRAINT "zone_set_point_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;



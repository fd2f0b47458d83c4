-- CreateTable
CREATE TABLE "studio" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "short_name" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "emergency_phone" TEXT NOT NULL,
    "is_demo" BOOLEAN NOT NULL DEFAULT false,
    "gear_minutes" INTEGER NOT NULL DEFAULT 120,
    "jar_days" INTEGER NOT NULL DEFAULT 14,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "studio_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "account" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "disabled_at" TIMESTAMPTZ(3),

    CONSTRAINT "account_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "session" (
    "studio_id" UUID NOT NULL,
    "id" TEXT NOT NULL,
    "user_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "ends_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "session_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "station" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "scale_capacity_mg" BIGINT NOT NULL,
    "mould_name" TEXT NOT NULL,
    "mould_volume_ml" INTEGER NOT NULL,

    CONSTRAINT "station_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "recipe" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "draft" JSONB NOT NULL,
    "revision" INTEGER NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" UUID NOT NULL,
    "updated_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "recipe_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "recipe_version" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "recipe_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "draft" JSONB NOT NULL,
    "published_at" TIMESTAMPTZ(3) NOT NULL,
    "published_by" UUID NOT NULL,

    CONSTRAINT "recipe_version_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "class" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "room" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "recipe_version_id" UUID NOT NULL,
    "naoh_lot_id" UUID,
    "koh_lot_id" UUID,
    "join_code" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" UUID NOT NULL,
    "published_at" TIMESTAMPTZ(3),
    "closed_at" TIMESTAMPTZ(3),

    CONSTRAINT "class_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "class_station" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "scale_capacity_mg" BIGINT NOT NULL,
    "mould_name" TEXT NOT NULL,
    "mould_volume_ml" INTEGER NOT NULL,
    "join_code" TEXT NOT NULL,

    CONSTRAINT "class_station_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "weigh_card" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "class_station_id" UUID NOT NULL,
    "recipe_version_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "issue" INTEGER NOT NULL,
    "content" JSONB NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL,
    "issued_by" UUID NOT NULL,

    CONSTRAINT "weigh_card_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "seat" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "class_station_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "account_id" UUID,
    "token_hash" TEXT NOT NULL,
    "joined_at" TIMESTAMPTZ(3) NOT NULL,
    "signed_out_at" TIMESTAMPTZ(3),

    CONSTRAINT "seat_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "gear_act" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "seat_id" UUID NOT NULL,
    "card_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "item_key" TEXT,
    "account_id" UUID,
    "reason" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "valid_until" TIMESTAMPTZ(3),
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "gear_act_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "card_step" (
    "studio_id" UUID NOT NULL,
    "card_id" UUID NOT NULL,
    "step_no" INTEGER NOT NULL,
    "seat_id" UUID,
    "account_id" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "card_step_pkey" PRIMARY KEY ("studio_id","card_id","step_no")
);

-- CreateTable
CREATE TABLE "reading" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "card_id" UUID NOT NULL,
    "step_no" INTEGER NOT NULL,
    "seat_id" UUID,
    "account_id" UUID,
    "entered" TEXT NOT NULL,
    "mass_mg" BIGINT,
    "temperature_milli_c" INTEGER,
    "verdict" TEXT NOT NULL,
    "off_by" BIGINT NOT NULL,
    "advice" TEXT NOT NULL,
    "supersedes_id" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "class_stop" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "by_name" TEXT NOT NULL,
    "seat_id" UUID,
    "account_id" UUID,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "class_stop_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "jar" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "card_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "contents" TEXT NOT NULL,
    "concentration_percent" DECIMAL(5,2) NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "discard_on" DATE NOT NULL,
    "made_by" TEXT NOT NULL,

    CONSTRAINT "jar_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "jar_act" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "jar_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "remark" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "jar_act_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "lot" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "substance" TEXT NOT NULL,
    "supplier" TEXT NOT NULL,
    "lot_number" TEXT NOT NULL,
    "purity_percent" DECIMAL(6,3) NOT NULL,
    "purity_uncertainty_percent" DECIMAL(6,3) NOT NULL,
    "sds_link" TEXT NOT NULL,
    "sds_revised_on" DATE,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "received_by" UUID NOT NULL,

    CONSTRAINT "lot_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "container" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "gross_mg" BIGINT NOT NULL,
    "tare_mg" BIGINT NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "container_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "place_balance" (
    "studio_id" UUID NOT NULL,
    "place" TEXT NOT NULL,
    "lot_id" UUID NOT NULL,
    "balance_mg" BIGINT NOT NULL,

    CONSTRAINT "place_balance_pkey" PRIMARY KEY ("studio_id","place","lot_id")
);

-- CreateTable
CREATE TABLE "ledger_line" (
    "studio_id" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "kind" TEXT NOT NULL,
    "lot_id" UUID NOT NULL,
    "from_place" TEXT NOT NULL,
    "to_place" TEXT NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "account_id" UUID NOT NULL,
    "subject_id" UUID,
    "reason" TEXT NOT NULL,
    "previous_hash" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "ledger_line_pkey" PRIMARY KEY ("studio_id","seq")
);

-- CreateTable
CREATE TABLE "chain_head" (
    "studio_id" UUID NOT NULL,
    "chain" TEXT NOT NULL,
    "seq" BIGINT NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "chain_head_pkey" PRIMARY KEY ("studio_id","chain")
);

-- CreateTable
CREATE TABLE "checkout" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "checkout_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "checkout_return" (
    "studio_id" UUID NOT NULL,
    "checkout_id" UUID NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "checkout_return_pkey" PRIMARY KEY ("studio_id","checkout_id")
);

-- CreateTable
CREATE TABLE "stock_count" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "account_id" UUID NOT NULL,
    "scale_step_mg" BIGINT NOT NULL,
    "ledger_seq" BIGINT NOT NULL,
    "results" JSONB NOT NULL,

    CONSTRAINT "stock_count_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "stock_count_line" (
    "studio_id" UUID NOT NULL,
    "count_id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "gross_mg" BIGINT NOT NULL,
    "net_mg" BIGINT NOT NULL,
    "book_mg" BIGINT NOT NULL,

    CONSTRAINT "stock_count_line_pkey" PRIMARY KEY ("studio_id","count_id","container_id")
);

-- CreateTable
CREATE TABLE "note" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "signing" TEXT NOT NULL,
    "class_id" UUID,
    "place" TEXT NOT NULL,
    "step_title" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "what_stopped_it" TEXT NOT NULL,
    "done_at_once" TEXT NOT NULL,
    "happened_on" DATE NOT NULL,
    "filed_at" TIMESTAMPTZ(3) NOT NULL,
    "by_name" TEXT,
    "seat_id" UUID,
    "account_id" UUID,
    "return_hash" TEXT,

    CONSTRAINT "note_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "note_review" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "learned" TEXT NOT NULL,
    "change" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "note_review_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "note_amendment" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "text" TEXT NOT NULL,
    "by_name" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "note_amendment_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "event" (
    "studio_id" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "kind" TEXT NOT NULL,
    "class_id" UUID,
    "class_station_id" UUID,
    "subject_id" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "event_pkey" PRIMARY KEY ("studio_id","seq")
);

-- CreateTable
CREATE TABLE "studio_counter" (
    "studio_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "value" BIGINT NOT NULL,

    CONSTRAINT "studio_counter_pkey" PRIMARY KEY ("studio_id","name")
);

-- CreateTable
CREATE TABLE "idempotency" (
    "studio_id" UUID NOT NULL,
    "actor" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "route" TEXT NOT NULL,
    "input_hash" TEXT NOT NULL,
    "status" INTEGER,
    "response" JSONB,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "idempotency_pkey" PRIMARY KEY ("studio_id","actor","key")
);

-- CreateTable
CREATE TABLE "audit" (
    "studio_id" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "detail" JSONB NOT NULL,
    "previous_hash" BYTEA NOT NULL,
    "hash" BYTEA NOT NULL,

    CONSTRAINT "audit_pkey" PRIMARY KEY ("studio_id","seq")
);

-- CreateIndex
CREATE UNIQUE INDEX "studio_short_name_key" ON "studio"("short_name");

-- CreateIndex
CREATE UNIQUE INDEX "account_email_key" ON "account"("studio_id", "email");

-- CreateIndex
CREATE UNIQUE INDEX "station_name_key" ON "station"("studio_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "recipe_version_number_key" ON "recipe_version"("studio_id", "recipe_id", "number");

-- CreateIndex
CREATE INDEX "class_join_code_idx" ON "class"("join_code");

-- CreateIndex
CREATE INDEX "class_station_join_code_idx" ON "class_station"("join_code");

-- CreateIndex
CREATE UNIQUE INDEX "class_station_once_key" ON "class_station"("studio_id", "class_id", "station_id");

-- CreateIndex
CREATE INDEX "weigh_card_station_idx" ON "weigh_card"("studio_id", "class_station_id");

-- CreateIndex
CREATE UNIQUE INDEX "weigh_card_number_key" ON "weigh_card"("studio_id", "number", "issue");

-- CreateIndex
CREATE INDEX "seat_station_idx" ON "seat"("studio_id", "class_station_id");

-- CreateIndex
CREATE UNIQUE INDEX "seat_token_key" ON "seat"("studio_id", "token_hash");

-- CreateIndex
CREATE INDEX "gear_act_seat_idx" ON "gear_act"("studio_id", "seat_id");

-- CreateIndex
CREATE INDEX "reading_card_idx" ON "reading"("studio_id", "card_id", "step_no");

-- CreateIndex
CREATE UNIQUE INDEX "reading_superseded_once_key" ON "reading"("studio_id", "supersedes_id");

-- CreateIndex
CREATE INDEX "class_stop_class_idx" ON "class_stop"("studio_id", "class_id");

-- CreateIndex
CREATE UNIQUE INDEX "jar_number_key" ON "jar"("studio_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "jar_card_key" ON "jar"("studio_id", "card_id");

-- CreateIndex
CREATE UNIQUE INDEX "lot_number_key" ON "lot"("studio_id", "supplier", "lot_number", "substance");

-- CreateIndex
CREATE UNIQUE INDEX "container_label_key" ON "container"("studio_id", "label");

-- CreateIndex
CREATE UNIQUE INDEX "ledger_line_id_key" ON "ledger_line"("studio_id", "id");

-- CreateIndex
CREATE INDEX "ledger_line_to_idx" ON "ledger_line"("studio_id", "to_place");

-- CreateIndex
CREATE INDEX "ledger_line_from_idx" ON "ledger_line"("studio_id", "from_place");

-- CreateIndex
CREATE INDEX "checkout_class_idx" ON "checkout"("studio_id", "class_id");

-- CreateIndex
CREATE INDEX "checkout_container_idx" ON "checkout"("studio_id", "container_id");

-- CreateIndex
CREATE UNIQUE INDEX "note_number_key" ON "note"("studio_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "note_return_key" ON "note"("studio_id", "return_hash");

-- AddForeignKey
ALTER TABLE "account" ADD CONSTRAINT "account_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_studio_id_user_id_fkey" FOREIGN KEY ("studio_id", "user_id") REFERENCES "account"("studio_id", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "station" ADD CONSTRAINT "station_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe" ADD CONSTRAINT "recipe_studio_id_created_by_fkey" FOREIGN KEY ("studio_id", "created_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_version" ADD CONSTRAINT "recipe_version_studio_id_recipe_id_fkey" FOREIGN KEY ("studio_id", "recipe_id") REFERENCES "recipe"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_version" ADD CONSTRAINT "recipe_version_studio_id_published_by_fkey" FOREIGN KEY ("studio_id", "published_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class" ADD CONSTRAINT "class_studio_id_recipe_version_id_fkey" FOREIGN KEY ("studio_id", "recipe_version_id") REFERENCES "recipe_version"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class" ADD CONSTRAINT "class_studio_id_naoh_lot_id_fkey" FOREIGN KEY ("studio_id", "naoh_lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class" ADD CONSTRAINT "class_studio_id_koh_lot_id_fkey" FOREIGN KEY ("studio_id", "koh_lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_station" ADD CONSTRAINT "class_station_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_station" ADD CONSTRAINT "class_station_studio_id_station_id_fkey" FOREIGN KEY ("studio_id", "station_id") REFERENCES "station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "weigh_card" ADD CONSTRAINT "weigh_card_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "weigh_card" ADD CONSTRAINT "weigh_card_studio_id_class_station_id_fkey" FOREIGN KEY ("studio_id", "class_station_id") REFERENCES "class_station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "weigh_card" ADD CONSTRAINT "weigh_card_studio_id_recipe_version_id_fkey" FOREIGN KEY ("studio_id", "recipe_version_id") REFERENCES "recipe_version"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "seat" ADD CONSTRAINT "seat_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "seat" ADD CONSTRAINT "seat_studio_id_class_station_id_fkey" FOREIGN KEY ("studio_id", "class_station_id") REFERENCES "class_station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "gear_act" ADD CONSTRAINT "gear_act_studio_id_seat_id_fkey" FOREIGN KEY ("studio_id", "seat_id") REFERENCES "seat"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "gear_act" ADD CONSTRAINT "gear_act_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "card_step" ADD CONSTRAINT "card_step_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "card_step" ADD CONSTRAINT "card_step_studio_id_seat_id_fkey" FOREIGN KEY ("studio_id", "seat_id") REFERENCES "seat"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_studio_id_seat_id_fkey" FOREIGN KEY ("studio_id", "seat_id") REFERENCES "seat"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_studio_id_supersedes_id_fkey" FOREIGN KEY ("studio_id", "supersedes_id") REFERENCES "reading"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_stop" ADD CONSTRAINT "class_stop_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "jar" ADD CONSTRAINT "jar_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "jar" ADD CONSTRAINT "jar_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "jar_act" ADD CONSTRAINT "jar_act_studio_id_jar_id_fkey" FOREIGN KEY ("studio_id", "jar_id") REFERENCES "jar"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "lot" ADD CONSTRAINT "lot_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container" ADD CONSTRAINT "container_studio_id_lot_id_fkey" FOREIGN KEY ("studio_id", "lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "place_balance" ADD CONSTRAINT "place_balance_studio_id_lot_id_fkey" FOREIGN KEY ("studio_id", "lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ledger_line" ADD CONSTRAINT "ledger_line_studio_id_lot_id_fkey" FOREIGN KEY ("studio_id", "lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "chain_head" ADD CONSTRAINT "chain_head_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout" ADD CONSTRAINT "checkout_studio_id_container_id_fkey" FOREIGN KEY ("studio_id", "container_id") REFERENCES "container"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout" ADD CONSTRAINT "checkout_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout_return" ADD CONSTRAINT "checkout_return_studio_id_checkout_id_fkey" FOREIGN KEY ("studio_id", "checkout_id") REFERENCES "checkout"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_count_line" ADD CONSTRAINT "stock_count_line_studio_id_count_id_fkey" FOREIGN KEY ("studio_id", "count_id") REFERENCES "stock_count"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_count_line" ADD CONSTRAINT "stock_count_line_studio_id_container_id_fkey" FOREIGN KEY ("studio_id", "container_id") REFERENCES "container"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note" ADD CONSTRAINT "note_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note" ADD CONSTRAINT "note_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_review" ADD CONSTRAINT "note_review_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_amendment" ADD CONSTRAINT "note_amendment_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "event" ADD CONSTRAINT "event_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "studio_counter" ADD CONSTRAINT "studio_counter_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "idempotency" ADD CONSTRAINT "idempotency_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "audit" ADD CONSTRAINT "audit_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Everything below is what Prisma's schema cannot say: roles, grants, row policies, checks, triggers, look-ups.

-- Roles. They belong to the cluster, so they may be there already. None can bypass row-level security.
DO $$
DECLARE wanted text;
BEGIN
  FOREACH wanted IN ARRAY ARRAY['ashwater_app', 'ashwater_lookup', 'ashwater_readonly', 'ashwater_backup'] LOOP
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = wanted) THEN
      BEGIN
        EXECUTE format('CREATE ROLE %I NOLOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE', wanted);
      EXCEPTION WHEN duplicate_object OR unique_violation THEN
        NULL; -- another process migrating another database of this cluster was first
      END;
    END IF;
  END LOOP;
END $$;

-- The studio of this transaction; NULL (no rows) when nobody set it.
CREATE FUNCTION current_studio() RETURNS uuid LANGUAGE sql STABLE
  SET search_path = pg_catalog
  AS $$ SELECT nullif(current_setting('ashwater.studio_id', true), '')::uuid $$;

-- Row-level security on every tenant table, for the table's owner too.
DO $$
DECLARE tenant_table text;
BEGIN
  FOR tenant_table IN
    SELECT c.relname FROM pg_class c
    JOIN pg_namespace n ON n.oid = c.relnamespace
    WHERE n.nspname = 'public' AND c.relkind = 'r' AND c.relname NOT LIKE '\_prisma%'
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant_table);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', tenant_table);
    IF tenant_table = 'studio' THEN
      EXECUTE 'CREATE POLICY own_studio ON studio USING (id = current_studio()) WITH CHECK (id = current_studio())';
    ELSE
      EXECUTE format('CREATE POLICY own_studio ON %I USING (studio_id = current_studio()) WITH CHECK (studio_id = current_studio())', tenant_table);
    END IF;
    EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON %I TO ashwater_app', tenant_table);
    EXECUTE format('GRANT SELECT ON %I TO ashwater_readonly, ashwater_backup', tenant_table);
    -- A backup is of everything; it can read and nothing else. The read-only role sees one studio, as the service does.
    EXECUTE format('CREATE POLICY backup ON %I FOR SELECT TO ashwater_backup USING (true)', tenant_table);
  END LOOP;
END $$;
GRANT USAGE ON SCHEMA public TO ashwater_app, ashwater_lookup, ashwater_readonly, ashwater_backup;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO ashwater_app;

-- History is append-only: refused by grant, and by trigger for whoever holds the grant.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
BEGIN
  RAISE EXCEPTION 'history is append-only: % of % refused', TG_OP, TG_TABLE_NAME USING ERRCODE = 'AW001';
END $$;

DO $$
DECLARE history_table text;
BEGIN
  FOREACH history_table IN ARRAY ARRAY['recipe_version', 'weigh_card', 'gear_act', 'card_step', 'reading', 'class_stop', 'jar', 'jar_act',
    'lot', 'container', 'ledger_line', 'checkout', 'checkout_return', 'stock_count', 'stock_count_line', 'note', 'note_review',
    'note_amendment', 'event', 'audit'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', history_table);
    EXECUTE format('CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', history_table);
    EXECUTE format('REVOKE UPDATE, DELETE, TRUNCATE ON %I FROM ashwater_app', history_table);
  END LOOP;
END $$;
REVOKE DELETE ON studio, account, recipe, station, class, class_station, seat, place_balance, chain_head, studio_counter FROM ashwater_app;

-- Checks: what no code path may write.
ALTER TABLE account ADD CONSTRAINT account_role_check CHECK (role IN ('owner', 'manager', 'instructor', 'assistant'));
ALTER TABLE account ADD CONSTRAINT account_email_check CHECK (email = lower(email));
ALTER TABLE class ADD CONSTRAINT class_status_check CHECK (status IN ('draft', 'published', 'closed', 'cancelled'));
ALTER TABLE station ADD CONSTRAINT station_scale_check CHECK (scale_step_mg > 0 AND scale_capacity_mg > scale_step_mg AND mould_volume_ml > 0);
ALTER TABLE class_station ADD CONSTRAINT class_station_scale_check CHECK (scale_step_mg > 0 AND scale_capacity_mg > scale_step_mg AND mould_volume_ml > 0);
ALTER TABLE gear_act ADD CONSTRAINT gear_act_kind_check CHECK (
  (kind = 'confirmed' AND item_key IS NOT NULL AND account_id IS NULL)
  OR (kind = 'countersigned' AND account_id IS NOT NULL AND valid_until IS NOT NULL)
  OR (kind = 'lapsed' AND reason IS NOT NULL));
ALTER TABLE reading ADD CONSTRAINT reading_verdict_check CHECK (verdict IN ('within', 'under', 'over'));
ALTER TABLE reading ADD CONSTRAINT reading_one_value_check CHECK (num_nonnulls(mass_mg, temperature_milli_c) = 1 AND coalesce(mass_mg, 0) >= 0);
ALTER TABLE class_stop ADD CONSTRAINT class_stop_kind_check CHECK (kind IN ('stopped', 'cleared'));
ALTER TABLE jar ADD CONSTRAINT jar_mass_check CHECK (mass_mg > 0 AND concentration_percent > 0 AND concentration_percent < 100);
ALTER TABLE lot ADD CONSTRAINT lot_purity_check CHECK (substance IN ('NaOH', 'KOH') AND purity_percent > 0 AND purity_percent <= 100
  AND purity_uncertainty_percent >= 0 AND purity_uncertainty_percent < purity_percent);
ALTER TABLE container ADD CONSTRAINT container_mass_check CHECK (tare_mg >= 0 AND gross_mg > tare_mg AND scale_step_mg > 0);
ALTER TABLE ledger_line ADD CONSTRAINT ledger_line_mass_check CHECK (mass_mg > 0 AND from_place <> to_place AND scale_step_mg > 0);
ALTER TABLE checkout ADD CONSTRAINT checkout_mass_check CHECK (mass_mg > 0);
ALTER TABLE checkout_return ADD CONSTRAINT checkout_return_mass_check CHECK (mass_mg >= 0);
ALTER TABLE note ADD CONSTRAINT note_kind_check CHECK (kind IN ('near miss', 'incident') AND signing IN ('named', 'anonymous'));
-- An anonymous note holds nothing that leads to its writer: no name, no seat, no account, no time finer than the day.
ALTER TABLE note ADD CONSTRAINT note_anonymous_check CHECK (
  signing = 'named' OR (by_name IS NULL AND seat_id IS NULL AND account_id IS NULL AND filed_at = date_trunc('day', filed_at, 'UTC')));
-- Only the world outside (a supplier) may go below nothing: it is where every mass comes from.
ALTER TABLE place_balance ADD CONSTRAINT place_balance_not_negative_check CHECK (balance_mg >= 0 OR place = 'supplier');

-- Hash chains over the ledger and the audit, computed here so that no writer can choose them. The head row is locked,
-- which puts the lines of one studio in order; it also shows when the chain's tail was cut.
CREATE FUNCTION chain_memento(VARIADIC parts text[]) RETURNS bytea LANGUAGE sql IMMUTABLE SET search_path = pg_catalog
  -- every part is preceded by its length, so that no two different rows read the same
  AS $$ SELECT convert_to(string_agg(coalesce(length(part)::text, '-') || ':' || coalesce(part, '') , '|' ORDER BY n), 'UTF8')
        FROM unnest(parts) WITH ORDINALITY AS p(part, n) $$;

CREATE FUNCTION ledger_memento(line ledger_line) RETURNS bytea LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, public
  AS $$ SELECT chain_memento(line.studio_id::text, line.seq::text, line.id::text, (extract(epoch FROM line.at) * 1000)::bigint::text,
    line.kind, line.lot_id::text, line.from_place, line.to_place, line.mass_mg::text, line.scale_step_mg::text, line.account_id::text,
    line.subject_id::text, line.reason, encode(line.previous_hash, 'hex')) $$;

CREATE FUNCTION audit_memento(line audit) RETURNS bytea LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, public
  AS $$ SELECT chain_memento(line.studio_id::text, line.seq::text, (extract(epoch FROM line.at) * 1000)::bigint::text,
    line.actor, line.action, line.subject, line.detail::text, encode(line.previous_hash, 'hex')) $$;

CREATE FUNCTION take_chain_head(of_studio uuid, of_chain text, OUT next_seq bigint, OUT last_hash bytea) LANGUAGE plpgsql
  SET search_path = pg_catalog, public AS $$
BEGIN
  INSERT INTO chain_head (studio_id, chain, seq, hash) VALUES (of_studio, of_chain, 0, '\x00')
    ON CONFLICT (studio_id, chain) DO NOTHING;
  SELECT seq + 1, hash INTO next_seq, last_hash FROM chain_head
    WHERE studio_id = of_studio AND chain = of_chain FOR UPDATE;
END $$;

CREATE FUNCTION chain_ledger_line() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
BEGIN
  SELECT * INTO NEW.seq, NEW.previous_hash FROM take_chain_head(NEW.studio_id, 'ledger');
  NEW.hash := sha256(ledger_memento(NEW));
  UPDATE chain_head SET seq = NEW.seq, hash = NEW.hash WHERE studio_id = NEW.studio_id AND chain = 'ledger';
  RETURN NEW;
END $$;
CREATE TRIGGER chain BEFORE INSERT ON ledger_line FOR EACH ROW EXECUTE FUNCTION chain_ledger_line();

CREATE FUNCTION chain_audit() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
BEGIN
  SELECT * INTO NEW.seq, NEW.previous_hash FROM take_chain_head(NEW.studio_id, 'audit');
  NEW.hash := sha256(audit_memento(NEW));
  UPDATE chain_head SET seq = NEW.seq, hash = NEW.hash WHERE studio_id = NEW.studio_id AND chain = 'audit';
  RETURN NEW;
END $$;
CREATE TRIGGER chain BEFORE INSERT ON audit FOR EACH ROW EXECUTE FUNCTION chain_audit();

-- Whether the ledger's chain holds: every hash recomputed, every link followed, the head compared, balances summed again.
CREATE FUNCTION ledger_faults() RETURNS TABLE (seq bigint, fault text) LANGUAGE sql STABLE SET search_path = pg_catalog, public AS $$
  WITH line AS (
    SELECT l.seq, l.hash, l.previous_hash, sha256(ledger_memento(l)) AS recomputed,
      lag(l.hash, 1, '\x00'::bytea) OVER (ORDER BY l.seq) AS before, row_number() OVER (ORDER BY l.seq) AS place
    FROM ledger_line l WHERE l.studio_id = current_studio()
  ), moved AS (
    SELECT place, lot_id, sum(mass_mg) AS mass FROM (
      SELECT to_place AS place, lot_id, mass_mg FROM ledger_line WHERE studio_id = current_studio()
      UNION ALL SELECT from_place, lot_id, -mass_mg FROM ledger_line WHERE studio_id = current_studio()) AS end_of_line
    GROUP BY place, lot_id
  )
  SELECT seq, 'the line was changed' FROM line WHERE hash <> recomputed
  UNION ALL SELECT seq, 'the link to the line before is broken' FROM line WHERE previous_hash <> before OR seq <> place
  UNION ALL SELECT h.seq, 'the end of the ledger is missing' FROM chain_head h
    WHERE h.studio_id = current_studio() AND h.chain = 'ledger' AND h.hash <> coalesce((SELECT hash FROM line ORDER BY seq DESC LIMIT 1), '\x00'::bytea)
  UNION ALL SELECT NULL, 'the end of the ledger is missing' WHERE EXISTS (SELECT FROM line)
    AND NOT EXISTS (SELECT FROM chain_head WHERE studio_id = current_studio() AND chain = 'ledger')
  UNION ALL SELECT NULL, 'the balance of ' || coalesce(b.place, m.place) || ' is not the sum of its lines'
    FROM (SELECT * FROM place_balance WHERE studio_id = current_studio()) b
    FULL JOIN moved m ON m.place = b.place AND m.lot_id = b.lot_id
    WHERE coalesce(b.balance_mg, 0) <> coalesce(m.mass, 0)
$$;

-- Two look-ups must work before a studio is known: who signs in, and where a join code leads. They run as a role that can
-- read just those rows, because row-level security is forced on the tables' owner too.
GRANT SELECT (studio_id, id, email, password_hash, disabled_at) ON account TO ashwater_lookup;
GRANT SELECT (studio_id, id, status, join_code) ON class TO ashwater_lookup;
GRANT SELECT (studio_id, id, class_id, join_code) ON class_station TO ashwater_lookup;
GRANT SELECT (id, short_name) ON studio TO ashwater_lookup;
CREATE POLICY lookup ON account FOR SELECT TO ashwater_lookup USING (true);
CREATE POLICY lookup ON class FOR SELECT TO ashwater_lookup USING (true);
CREATE POLICY lookup ON class_station FOR SELECT TO ashwater_lookup USING (true);
CREATE POLICY lookup ON studio FOR SELECT TO ashwater_lookup USING (true);

CREATE FUNCTION sign_in_candidates(wanted_email text, wanted_studio text)
  RETURNS TABLE (studio_id uuid, account_id uuid, password_hash text) LANGUAGE sql STABLE SECURITY DEFINER
  SET search_path = pg_catalog, public AS $$
  SELECT a.studio_id, a.id, a.password_hash FROM account a JOIN studio s ON s.id = a.studio_id
  WHERE a.email = lower(wanted_email) AND a.disabled_at IS NULL AND (wanted_studio IS NULL OR s.short_name = lower(wanted_studio))
  ORDER BY a.studio_id LIMIT 5 $$;

CREATE FUNCTION studio_of_join_code(code text) RETURNS TABLE (studio_id uuid, class_id uuid, class_station_id uuid)
  LANGUAGE sql STABLE SECURITY DEFINER SET search_path = pg_catalog, public AS $$
  SELECT c.studio_id, c.id, NULL::uuid FROM class c WHERE c.join_code = code
  UNION ALL SELECT s.studio_id, s.class_id, s.id FROM class_station s WHERE s.join_code = code
  LIMIT 1 $$;

CREATE FUNCTION any_studio() RETURNS boolean LANGUAGE sql STABLE SECURITY DEFINER SET search_path = pg_catalog, public
  AS $$ SELECT EXISTS (SELECT FROM studio) $$;

DO $$
DECLARE look_up regprocedure;
BEGIN
  FOREACH look_up IN ARRAY ARRAY['sign_in_candidates(text, text)', 'studio_of_join_code(text)', 'any_studio()']::regprocedure[] LOOP
    EXECUTE format('REVOKE ALL ON FUNCTION %s FROM PUBLIC', look_up);
    EXECUTE format('GRANT EXECUTE ON FUNCTION %s TO ashwater_app', look_up);
  END LOOP;
END $$;
-- Giving a function away needs membership of the new owner, and CREATE on the schema for it at that moment.
GRANT ashwater_lookup TO CURRENT_USER;
GRANT CREATE ON SCHEMA public TO ashwater_lookup;
ALTER FUNCTION sign_in_candidates(text, text) OWNER TO ashwater_lookup;
ALTER FUNCTION studio_of_join_code(text) OWNER TO ashwater_lookup;
ALTER FUNCTION any_studio() OWNER TO ashwater_lookup;
REVOKE CREATE ON SCHEMA public FROM ashwater_lookup;

-- Changing a draft class lays its stations anew. Only a draft's stations may go: those of a published class have cards and seats.
GRANT DELETE ON class_station TO ashwater_app;
CREATE POLICY drafts_only ON class_station AS RESTRICTIVE FOR DELETE USING (
  EXISTS (SELECT FROM class c WHERE c.studio_id = class_station.studio_id AND c.id = class_station.class_id AND c.status = 'draft'));

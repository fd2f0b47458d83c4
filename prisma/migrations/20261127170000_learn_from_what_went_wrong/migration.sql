-- Notes people dare to file: signed, in confidence or without a name; triage, follow-ups and what they changed; keeping and blanking by the studio's rule.
-- AlterTable
ALTER TABLE "note" ADD COLUMN     "card_id" UUID,
ADD COLUMN     "erased_on" DATE,
ADD COLUMN     "harms" TEXT[] DEFAULT ARRAY[]::TEXT[],
ADD COLUMN     "how" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "when_words" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "note_amendment" ADD COLUMN     "erased_on" DATE,
ADD COLUMN     "kind" TEXT NOT NULL DEFAULT 'added';

-- AlterTable
ALTER TABLE "studio" ADD COLUMN     "name_keep_days" INTEGER NOT NULL DEFAULT 365,
ADD COLUMN     "note_keep_days" INTEGER NOT NULL DEFAULT 3650,
ADD COLUMN     "wall_code" VARCHAR(12) NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "note_identity" (
    "studio_id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "signing" TEXT NOT NULL,
    "by_name" TEXT NOT NULL,
    "seat_id" UUID,
    "account_id" UUID,
    "erased_on" DATE,

    CONSTRAINT "note_identity_pkey" PRIMARY KEY ("studio_id","note_id")
);

-- CreateTable
CREATE TABLE "note_picture" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "bytes" BYTEA NOT NULL,
    "width_px" INTEGER NOT NULL,
    "height_px" INTEGER NOT NULL,
    "erased_on" DATE,

    CONSTRAINT "note_picture_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "note_triage" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "actual" TEXT NOT NULL,
    "potential" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "causes" TEXT[],
    "staff" BOOLEAN NOT NULL,
    "class_id" UUID,
    "card_id" UUID,
    "lot_id" UUID,
    "container_id" UUID,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "note_triage_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "note_merge" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "into_id" UUID,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "note_merge_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "follow_up" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "note_id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "created_by" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "follow_up_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "follow_up_act" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "follow_up_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "owner_id" UUID,
    "due_on" DATE,
    "remark" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "follow_up_act_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "follow_up_change" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "follow_up_id" UUID NOT NULL,
    "target" TEXT NOT NULL,
    "recipe_id" UUID,
    "station_id" UUID,
    "step_title" TEXT,
    "words" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "follow_up_change_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "staff_hours" (
    "studio_id" UUID NOT NULL,
    "month" DATE NOT NULL,
    "hours" DECIMAL(9,2) NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "staff_hours_pkey" PRIMARY KEY ("studio_id","month")
);

-- CreateIndex
CREATE INDEX "note_identity_seat_idx" ON "note_identity"("studio_id", "seat_id");

-- CreateIndex
CREATE INDEX "note_identity_account_idx" ON "note_identity"("studio_id", "account_id");

-- CreateIndex
CREATE INDEX "note_picture_note_idx" ON "note_picture"("studio_id", "note_id");

-- CreateIndex
CREATE INDEX "note_triage_note_idx" ON "note_triage"("studio_id", "note_id", "seq");

-- CreateIndex
CREATE INDEX "note_merge_note_idx" ON "note_merge"("studio_id", "note_id", "seq");

-- CreateIndex
CREATE INDEX "follow_up_note_idx" ON "follow_up"("studio_id", "note_id");

-- CreateIndex
CREATE INDEX "follow_up_act_idx" ON "follow_up_act"("studio_id", "follow_up_id", "seq");

-- CreateIndex
CREATE INDEX "follow_up_change_idx" ON "follow_up_change"("studio_id", "follow_up_id");

-- CreateIndex
CREATE INDEX "note_day_idx" ON "note"("studio_id", "happened_on");

-- CreateIndex
CREATE UNIQUE INDEX "note_signing_key" ON "note"("studio_id", "id", "signing");

-- CreateIndex
CREATE INDEX "note_amendment_note_idx" ON "note_amendment"("studio_id", "note_id");

-- AddForeignKey
ALTER TABLE "note" ADD CONSTRAINT "note_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_identity" ADD CONSTRAINT "note_identity_studio_id_note_id_signing_fkey" FOREIGN KEY ("studio_id", "note_id", "signing") REFERENCES "note"("studio_id", "id", "signing") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_picture" ADD CONSTRAINT "note_picture_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_card_id_fkey" FOREIGN KEY ("studio_id", "card_id") REFERENCES "weigh_card"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_lot_id_fkey" FOREIGN KEY ("studio_id", "lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_container_id_fkey" FOREIGN KEY ("studio_id", "container_id") REFERENCES "container"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_triage" ADD CONSTRAINT "note_triage_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_merge" ADD CONSTRAINT "note_merge_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_merge" ADD CONSTRAINT "note_merge_studio_id_into_id_fkey" FOREIGN KEY ("studio_id", "into_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "note_merge" ADD CONSTRAINT "note_merge_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_studio_id_note_id_fkey" FOREIGN KEY ("studio_id", "note_id") REFERENCES "note"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up" ADD CONSTRAINT "follow_up_studio_id_created_by_fkey" FOREIGN KEY ("studio_id", "created_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_act" ADD CONSTRAINT "follow_up_act_studio_id_follow_up_id_fkey" FOREIGN KEY ("studio_id", "follow_up_id") REFERENCES "follow_up"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_act" ADD CONSTRAINT "follow_up_act_studio_id_owner_id_fkey" FOREIGN KEY ("studio_id", "owner_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_act" ADD CONSTRAINT "follow_up_act_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_change" ADD CONSTRAINT "follow_up_change_studio_id_follow_up_id_fkey" FOREIGN KEY ("studio_id", "follow_up_id") REFERENCES "follow_up"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_change" ADD CONSTRAINT "follow_up_change_studio_id_recipe_id_fkey" FOREIGN KEY ("studio_id", "recipe_id") REFERENCES "recipe"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_change" ADD CONSTRAINT "follow_up_change_studio_id_station_id_fkey" FOREIGN KEY ("studio_id", "station_id") REFERENCES "station"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "follow_up_change" ADD CONSTRAINT "follow_up_change_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "staff_hours" ADD CONSTRAINT "staff_hours_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.

-- Names move out of the notes, so that who may read a note is not who may read its writer, and a name can go before its note does.
-- The owner of a table is under its row policies too, which show nothing outside a studio.
ALTER TABLE note NO FORCE ROW LEVEL SECURITY;
INSERT INTO note_identity (studio_id, note_id, signing, by_name, seat_id, account_id)
  SELECT studio_id, id, signing, coalesce(by_name, ''), seat_id, account_id FROM note WHERE signing = 'named';
ALTER TABLE note FORCE ROW LEVEL SECURITY;
ALTER TABLE note DROP CONSTRAINT note_anonymous_check;
ALTER TABLE note DROP COLUMN account_id, DROP COLUMN by_name, DROP COLUMN seat_id;
ALTER TABLE note DROP CONSTRAINT note_kind_check;
ALTER TABLE note ADD CONSTRAINT note_kind_check CHECK (kind IN ('near miss', 'incident') AND signing IN ('named', 'confidential', 'anonymous')
  AND harms <@ ARRAY['first aid', 'medical help', 'damage', 'spill', 'eyes', 'skin', 'lungs']);
-- An anonymous note holds nothing that leads to its writer: no class, no card, no time finer than the day; and no row of note_identity can name it.
ALTER TABLE note ADD CONSTRAINT note_anonymous_check CHECK (
  signing <> 'anonymous' OR (class_id IS NULL AND card_id IS NULL AND filed_at = date_trunc('day', filed_at, 'UTC')));
ALTER TABLE note_identity ADD CONSTRAINT note_identity_signing_check CHECK (signing IN ('named', 'confidential'));
ALTER TABLE note_amendment ADD CONSTRAINT note_amendment_kind_check CHECK (kind IN ('added', 'question', 'answer'));
ALTER TABLE note_picture ADD CONSTRAINT note_picture_size_check CHECK (width_px BETWEEN 1 AND 1600 AND height_px BETWEEN 1 AND 1600);
ALTER TABLE note_triage ADD CONSTRAINT note_triage_check CHECK (
  actual IN ('none', 'slight', 'serious', 'grave') AND potential IN ('none', 'slight', 'serious', 'grave')
  AND causes <@ ARRAY['person', 'equipment', 'method', 'material', 'surroundings', 'organisation']
  AND category IN ('contact with caustic', 'spill', 'heat or boiling over', 'wrong weighing or mix-up', 'gear', 'storage or label', 'trip or fall', 'other'));
ALTER TABLE note_merge ADD CONSTRAINT note_merge_check CHECK (into_id IS NULL OR into_id <> note_id);
ALTER TABLE follow_up ADD CONSTRAINT follow_up_kind_check CHECK (kind IN ('remove', 'replace', 'guard', 'procedure', 'gear') AND what <> '');
ALTER TABLE follow_up_act ADD CONSTRAINT follow_up_act_check CHECK (kind IN ('given', 'done', 'verified', 'reopened')
  AND (kind <> 'given' OR (owner_id IS NOT NULL AND due_on IS NOT NULL)) AND (kind = 'given' OR remark <> ''));
ALTER TABLE follow_up_change ADD CONSTRAINT follow_up_change_check CHECK (target IN ('step', 'gear', 'recipe', 'station', 'limit') AND words <> ''
  AND (target = 'step') = (step_title IS NOT NULL) AND (target <> 'recipe' OR recipe_id IS NOT NULL) AND (target <> 'station' OR station_id IS NOT NULL));
ALTER TABLE staff_hours ADD CONSTRAINT staff_hours_check CHECK (hours >= 0 AND hours <= 100000 AND month = date_trunc('month', month)::date);
ALTER TABLE studio ADD CONSTRAINT studio_note_limits_check CHECK (note_keep_days > 0 AND name_keep_days > 0 AND name_keep_days <= note_keep_days);

DO $$
DECLARE new_table text;
BEGIN
  FOREACH new_table IN ARRAY ARRAY['note_identity', 'note_picture', 'note_triage', 'note_merge', 'follow_up', 'follow_up_act', 'follow_up_change',
    'staff_hours'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', new_table);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', new_table);
    EXECUTE format('CREATE POLICY own_studio ON %I USING (studio_id = current_studio()) WITH CHECK (studio_id = current_studio())', new_table);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO ashwater_app', new_table);
    EXECUTE format('GRANT SELECT ON %I TO ashwater_readonly, ashwater_backup', new_table);
    EXECUTE format('CREATE POLICY backup ON %I FOR SELECT TO ashwater_backup USING (true)', new_table);
  END LOOP;
  FOREACH new_table IN ARRAY ARRAY['note_triage', 'note_merge', 'follow_up', 'follow_up_act'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', new_table);
    EXECUTE format('CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', new_table);
  END LOOP;
END $$;
-- Who told a note is for reviewers: whoever reads the tables for figures does not need it.
REVOKE SELECT ON note_identity FROM ashwater_readonly;
-- A change in force is ended, never rewritten; a month's hours may be put right.
GRANT UPDATE (ended_at) ON follow_up_change TO ashwater_app;
GRANT UPDATE ON staff_hours TO ashwater_app;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO ashwater_app;

-- The one change that a note allows: its words, or its writer's name, are blanked once the studio's rule is past. Arguments: which rule
-- ('name' or 'note'), then the columns that are blanked. Everything else of the row must stay as it is.
CREATE FUNCTION only_blank() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
DECLARE
  before jsonb := to_jsonb(OLD); after jsonb; blanked text[] := TG_ARGV[1:]; keep_days int; told timestamptz;
BEGIN
  IF TG_OP = 'UPDATE' THEN
    after := to_jsonb(NEW);
    SELECT CASE TG_ARGV[0] WHEN 'name' THEN s.name_keep_days ELSE s.note_keep_days END, n.filed_at INTO keep_days, told
      FROM note n JOIN studio s ON s.id = n.studio_id WHERE n.studio_id = OLD.studio_id AND n.id = coalesce(before->>'note_id', before->>'id')::uuid;
    IF told + make_interval(days => keep_days) <= now() AND after->>'erased_on' IS NOT NULL AND before->>'erased_on' IS NULL
      AND after - blanked - 'erased_on' = before - blanked - 'erased_on'
      AND NOT EXISTS (SELECT FROM unnest(blanked) AS t(name) WHERE coalesce(after->>t.name, '') NOT IN ('', '\x')) THEN
      RETURN NEW;
    END IF;
  END IF;
  RAISE EXCEPTION 'notes are kept as they were told until the studio''s rule blanks them: % of % refused', TG_OP, TG_TABLE_NAME USING ERRCODE = 'AW001';
END $$;
DROP TRIGGER append_only ON note;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON note FOR EACH ROW
  EXECUTE FUNCTION only_blank('note', 'place', 'step_title', 'what', 'how', 'when_words', 'what_stopped_it', 'done_at_once');
DROP TRIGGER append_only ON note_amendment;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON note_amendment FOR EACH ROW EXECUTE FUNCTION only_blank('note', 'text', 'by_name');
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON note_identity FOR EACH ROW EXECUTE FUNCTION only_blank('name', 'by_name', 'seat_id', 'account_id');
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON note_picture FOR EACH ROW EXECUTE FUNCTION only_blank('note', 'bytes');
CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON note_identity FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON note_picture FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
GRANT UPDATE (place, step_title, what, how, when_words, what_stopped_it, done_at_once, erased_on) ON note TO ashwater_app;
GRANT UPDATE (text, by_name, erased_on) ON note_amendment TO ashwater_app;
GRANT UPDATE (by_name, seat_id, account_id, erased_on) ON note_identity TO ashwater_app;
GRANT UPDATE (bytes, erased_on) ON note_picture TO ashwater_app;

-- A code on the wall says which studio it is, and nothing else: no class, no station.
GRANT SELECT (wall_code) ON studio TO ashwater_lookup;
CREATE FUNCTION studio_of_note_code(code text) RETURNS TABLE (studio_id uuid) LANGUAGE sql STABLE SECURITY DEFINER SET search_path = pg_catalog, public AS $$
  SELECT s.id FROM studio s WHERE s.wall_code = code AND code <> ''
  UNION ALL SELECT c.studio_id FROM class c WHERE c.join_code = code
  UNION ALL SELECT s.studio_id FROM class_station s WHERE s.join_code = code
  LIMIT 1 $$;
REVOKE ALL ON FUNCTION studio_of_note_code(text) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION studio_of_note_code(text) TO ashwater_app;
GRANT CREATE ON SCHEMA public TO ashwater_lookup;
ALTER FUNCTION studio_of_note_code(text) OWNER TO ashwater_lookup;
REVOKE CREATE ON SCHEMA public FROM ashwater_lookup;

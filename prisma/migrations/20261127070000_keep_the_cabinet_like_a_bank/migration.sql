-- The cabinet as books: scales with names, requests that take two people, papers of a lot, acts on a bottle, reports signed by two.
-- DropIndex
DROP INDEX "ledger_line_from_idx";

-- DropIndex
DROP INDEX "ledger_line_to_idx";

-- AlterTable
ALTER TABLE "checkout" ADD COLUMN     "due_at" TIMESTAMPTZ(3),
ADD COLUMN     "gross_mg" BIGINT,
ADD COLUMN     "purpose" TEXT NOT NULL DEFAULT 'class',
ADD COLUMN     "remark" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "request_id" UUID,
ADD COLUMN     "scale_id" UUID,
ADD COLUMN     "taken_by" UUID,
ADD COLUMN     "whole" BOOLEAN NOT NULL DEFAULT false,
ALTER COLUMN "class_id" DROP NOT NULL;

-- AlterTable
ALTER TABLE "checkout_return" ADD COLUMN     "gross_mg" BIGINT,
ADD COLUMN     "remark" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "scale_id" UUID;

-- AlterTable
ALTER TABLE "container" ADD COLUMN     "scale_id" UUID;

-- AlterTable
ALTER TABLE "jar" ADD COLUMN     "place" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "jar_act" ADD COLUMN     "concentration_percent" DECIMAL(5,2),
ADD COLUMN     "mass_mg" BIGINT,
ADD COLUMN     "place" TEXT,
ADD COLUMN     "seq" BIGSERIAL NOT NULL;

-- AlterTable
ALTER TABLE "ledger_line" ADD COLUMN     "hash_form" SMALLINT NOT NULL DEFAULT 1,
ADD COLUMN     "request_id" UUID,
ADD COLUMN     "reverses_seq" BIGINT,
ADD COLUMN     "scale_id" UUID;

-- AlterTable
ALTER TABLE "lot" ADD COLUMN     "best_before" DATE,
ADD COLUMN     "freight_minor" BIGINT,
ADD COLUMN     "grade" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "lead_days" INTEGER,
ADD COLUMN     "papers_disagree" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "price_minor" BIGINT,
ADD COLUMN     "product" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "stock_count" ADD COLUMN     "remark" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "scale_id" UUID;

-- AlterTable
ALTER TABLE "stock_count_line" ADD COLUMN     "first_gross_mg" BIGINT;

-- AlterTable
ALTER TABLE "studio" ADD COLUMN     "checkout_hours" INTEGER NOT NULL DEFAULT 12,
ADD COLUMN     "currency" CHAR(3) NOT NULL DEFAULT 'EUR',
ADD COLUMN     "sds_days" INTEGER NOT NULL DEFAULT 1095,
ADD COLUMN     "storage_limit_mg" BIGINT NOT NULL DEFAULT 25000000,
ADD COLUMN     "two_person_keys" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "two_person_over_mg" BIGINT NOT NULL DEFAULT 1000000;

-- CreateTable
CREATE TABLE "cabinet_scale" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "step_mg" BIGINT NOT NULL,
    "capacity_mg" BIGINT NOT NULL,
    "verification_interval_mg" BIGINT,
    "accuracy_class" TEXT,
    "added_at" TIMESTAMPTZ(3) NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "cabinet_scale_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "scale_check" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "scale_id" UUID NOT NULL,
    "known_mg" BIGINT NOT NULL,
    "known_limit_mg" BIGINT NOT NULL,
    "shown_mg" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,

    CONSTRAINT "scale_check_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "stock_file" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "media_type" TEXT NOT NULL,
    "bytes" BYTEA NOT NULL,
    "sha256" BYTEA NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,

    CONSTRAINT "stock_file_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "lot_paper" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "lot_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "link" TEXT NOT NULL,
    "file_id" UUID,
    "revised_on" DATE,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "lot_paper_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "container_act" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "remark" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "seq" BIGSERIAL NOT NULL,

    CONSTRAINT "container_act_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "stock_request" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "reason" TEXT NOT NULL,
    "requested_by" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "stock_request_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "stock_decision" (
    "studio_id" UUID NOT NULL,
    "request_id" UUID NOT NULL,
    "requested_by" UUID NOT NULL,
    "decided_by" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "remark" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "stock_decision_pkey" PRIMARY KEY ("studio_id","request_id")
);

-- CreateTable
CREATE TABLE "class_difference" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "class_id" UUID NOT NULL,
    "substance" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "mass_mg" BIGINT NOT NULL,
    "remark" TEXT NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "class_difference_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "supplier_offer" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "supplier" TEXT NOT NULL,
    "substance" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "pack_mg" BIGINT NOT NULL,
    "price_minor" BIGINT NOT NULL,
    "freight_minor" BIGINT NOT NULL,
    "minimum_packs" INTEGER NOT NULL,
    "purity_percent" DECIMAL(6,3) NOT NULL,
    "lead_days" INTEGER NOT NULL,
    "noted_at" TIMESTAMPTZ(3) NOT NULL,
    "noted_by" UUID NOT NULL,
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "supplier_offer_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "balance_report" (
    "studio_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "content" JSONB NOT NULL,
    "head_seq" BIGINT NOT NULL,
    "head_hash" BYTEA NOT NULL,
    "made_by" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "balance_report_pkey" PRIMARY KEY ("studio_id","id")
);

-- CreateTable
CREATE TABLE "balance_signature" (
    "studio_id" UUID NOT NULL,
    "report_id" UUID NOT NULL,
    "account_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "balance_signature_pkey" PRIMARY KEY ("studio_id","report_id","account_id")
);

-- CreateIndex
CREATE UNIQUE INDEX "cabinet_scale_name_key" ON "cabinet_scale"("studio_id", "name");

-- CreateIndex
CREATE INDEX "scale_check_scale_idx" ON "scale_check"("studio_id", "scale_id", "at");

-- CreateIndex
CREATE INDEX "stock_count_line_container_idx" ON "stock_count_line"("studio_id", "container_id");

-- CreateIndex
CREATE INDEX "lot_paper_lot_idx" ON "lot_paper"("studio_id", "lot_id");

-- CreateIndex
CREATE INDEX "container_act_container_idx" ON "container_act"("studio_id", "container_id");

-- CreateIndex
CREATE UNIQUE INDEX "stock_request_requester_key" ON "stock_request"("studio_id", "id", "requested_by");

-- CreateIndex
CREATE UNIQUE INDEX "stock_decision_request_key" ON "stock_decision"("studio_id", "request_id", "requested_by");

-- CreateIndex
CREATE INDEX "class_difference_class_idx" ON "class_difference"("studio_id", "class_id");

-- CreateIndex
CREATE UNIQUE INDEX "balance_report_number_key" ON "balance_report"("studio_id", "number");

-- CreateIndex
CREATE INDEX "ledger_line_at_idx" ON "ledger_line"("studio_id", "at");

-- CreateIndex
CREATE INDEX "ledger_line_lot_idx" ON "ledger_line"("studio_id", "lot_id", "seq");

-- CreateIndex
CREATE INDEX "ledger_line_to_idx" ON "ledger_line"("studio_id", "to_place", "seq");

-- CreateIndex
CREATE INDEX "ledger_line_from_idx" ON "ledger_line"("studio_id", "from_place", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "ledger_line_reversed_once_key" ON "ledger_line"("studio_id", "reverses_seq");

-- AddForeignKey
ALTER TABLE "container" ADD CONSTRAINT "container_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ledger_line" ADD CONSTRAINT "ledger_line_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ledger_line" ADD CONSTRAINT "ledger_line_studio_id_reverses_seq_fkey" FOREIGN KEY ("studio_id", "reverses_seq") REFERENCES "ledger_line"("studio_id", "seq") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ledger_line" ADD CONSTRAINT "ledger_line_studio_id_request_id_fkey" FOREIGN KEY ("studio_id", "request_id") REFERENCES "stock_request"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout" ADD CONSTRAINT "checkout_studio_id_taken_by_fkey" FOREIGN KEY ("studio_id", "taken_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout" ADD CONSTRAINT "checkout_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout" ADD CONSTRAINT "checkout_studio_id_request_id_fkey" FOREIGN KEY ("studio_id", "request_id") REFERENCES "stock_request"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "checkout_return" ADD CONSTRAINT "checkout_return_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cabinet_scale" ADD CONSTRAINT "cabinet_scale_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "scale_check" ADD CONSTRAINT "scale_check_studio_id_scale_id_fkey" FOREIGN KEY ("studio_id", "scale_id") REFERENCES "cabinet_scale"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "scale_check" ADD CONSTRAINT "scale_check_studio_id_by_fkey" FOREIGN KEY ("studio_id", "by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_file" ADD CONSTRAINT "stock_file_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "lot_paper" ADD CONSTRAINT "lot_paper_studio_id_lot_id_fkey" FOREIGN KEY ("studio_id", "lot_id") REFERENCES "lot"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "lot_paper" ADD CONSTRAINT "lot_paper_studio_id_file_id_fkey" FOREIGN KEY ("studio_id", "file_id") REFERENCES "stock_file"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container_act" ADD CONSTRAINT "container_act_studio_id_container_id_fkey" FOREIGN KEY ("studio_id", "container_id") REFERENCES "container"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container_act" ADD CONSTRAINT "container_act_studio_id_account_id_fkey" FOREIGN KEY ("studio_id", "account_id") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_request" ADD CONSTRAINT "stock_request_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_request" ADD CONSTRAINT "stock_request_studio_id_requested_by_fkey" FOREIGN KEY ("studio_id", "requested_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_decision" ADD CONSTRAINT "stock_decision_studio_id_request_id_requested_by_fkey" FOREIGN KEY ("studio_id", "request_id", "requested_by") REFERENCES "stock_request"("studio_id", "id", "requested_by") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "stock_decision" ADD CONSTRAINT "stock_decision_studio_id_decided_by_fkey" FOREIGN KEY ("studio_id", "decided_by") REFERENCES "account"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "class_difference" ADD CONSTRAINT "class_difference_studio_id_class_id_fkey" FOREIGN KEY ("studio_id", "class_id") REFERENCES "class"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "supplier_offer" ADD CONSTRAINT "supplier_offer_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "balance_report" ADD CONSTRAINT "balance_report_studio_id_fkey" FOREIGN KEY ("studio_id") REFERENCES "studio"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "balance_signature" ADD CONSTRAINT "balance_signature_studio_id_report_id_fkey" FOREIGN KEY ("studio_id", "report_id") REFERENCES "balance_report"("studio_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
DO $$
DECLARE new_table text;
BEGIN
  FOREACH new_table IN ARRAY ARRAY['cabinet_scale', 'scale_check', 'stock_file', 'lot_paper', 'container_act', 'stock_request', 'stock_decision',
    'class_difference', 'supplier_offer', 'balance_report', 'balance_signature'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', new_table);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', new_table);
    EXECUTE format('CREATE POLICY own_studio ON %I USING (studio_id = current_studio()) WITH CHECK (studio_id = current_studio())', new_table);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO ashwater_app', new_table);
    EXECUTE format('GRANT SELECT ON %I TO ashwater_readonly, ashwater_backup', new_table);
    EXECUTE format('CREATE POLICY backup ON %I FOR SELECT TO ashwater_backup USING (true)', new_table);
  END LOOP;
  FOREACH new_table IN ARRAY ARRAY['scale_check', 'stock_file', 'lot_paper', 'container_act', 'stock_request', 'stock_decision', 'class_difference',
    'balance_report', 'balance_signature'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION refuse_change()', new_table);
    EXECUTE format('CREATE TRIGGER append_only_whole BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', new_table);
  END LOOP;
END $$;
-- A scale or an offer is never rewritten, only retired.
GRANT UPDATE ON cabinet_scale, supplier_offer TO ashwater_app;
GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO ashwater_app;

ALTER TABLE studio ADD CONSTRAINT studio_stock_limits_check CHECK (sds_days > 0 AND storage_limit_mg > 0 AND two_person_over_mg >= 0 AND checkout_hours > 0
  AND currency ~ '^[A-Z]{3}$' AND jar_days > 0);
ALTER TABLE cabinet_scale ADD CONSTRAINT cabinet_scale_check CHECK (step_mg > 0 AND capacity_mg > step_mg AND coalesce(verification_interval_mg, 1) > 0
  AND (accuracy_class IS NULL OR accuracy_class IN ('I', 'II', 'III', 'IIII')));
ALTER TABLE scale_check ADD CONSTRAINT scale_check_masses_check CHECK (known_mg > 0 AND known_limit_mg >= 0 AND shown_mg > 0);
ALTER TABLE lot_paper ADD CONSTRAINT lot_paper_check CHECK (kind IN ('safety data sheet', 'certificate') AND (link <> '' OR file_id IS NOT NULL));
ALTER TABLE lot ADD CONSTRAINT lot_price_check CHECK (coalesce(price_minor, 0) >= 0 AND coalesce(freight_minor, 0) >= 0 AND coalesce(lead_days, 0) >= 0);
ALTER TABLE container_act ADD CONSTRAINT container_act_kind_check CHECK (kind IN ('opened', 'closed', 'emptied', 'rinsed', 'disposed', 'moved'));
ALTER TABLE stock_request ADD CONSTRAINT stock_request_check CHECK (kind IN ('reversal', 'correction', 'write-off', 'disposal', 'checkout') AND reason <> '');
-- Two people: the one who decides is never the one who asked. The primary key leaves room for one decision only.
ALTER TABLE stock_decision ADD CONSTRAINT stock_decision_check CHECK (outcome IN ('approved', 'refused') AND decided_by <> requested_by);
ALTER TABLE jar_act ADD CONSTRAINT jar_act_kind_check CHECK (kind IN ('discarded', 'placed', 'used', 'topped', 'neutralised', 'disposed') AND coalesce(mass_mg, 1) > 0);
ALTER TABLE checkout ADD CONSTRAINT checkout_purpose_check CHECK (purpose IN ('class', 'test', 'disposal') AND (purpose = 'class') = (class_id IS NOT NULL)
  AND (NOT whole OR gross_mg > 0));
ALTER TABLE class_difference ADD CONSTRAINT class_difference_check CHECK (substance IN ('NaOH', 'KOH')
  AND kind IN ('spilled', 'left in the vessel', 'reading missing', 'weighing', 'unknown'));
ALTER TABLE supplier_offer ADD CONSTRAINT supplier_offer_check CHECK (substance IN ('NaOH', 'KOH') AND pack_mg > 0 AND price_minor >= 0 AND freight_minor >= 0
  AND minimum_packs > 0 AND purity_percent > 0 AND purity_percent <= 100 AND lead_days >= 0);
ALTER TABLE balance_report ADD CONSTRAINT balance_report_period_check CHECK (to_day >= from_day);
ALTER TABLE ledger_line ADD CONSTRAINT ledger_line_reverses_check CHECK ((kind = 'reversal') = (reverses_seq IS NOT NULL));

-- The world outside may go below nothing: suppliers and the air (water and carbon dioxide taken up) give, and what is unaccounted
-- for can be on either side.
ALTER TABLE place_balance DROP CONSTRAINT place_balance_not_negative_check;
ALTER TABLE place_balance ADD CONSTRAINT place_balance_not_negative_check CHECK (balance_mg >= 0 OR place IN ('supplier', 'air', 'unaccounted'));

-- Older lines keep the hash they were written with (form 1, text). Newer ones hash the row as PostgreSQL sends it in binary: every
-- column with its type and length, nothing written out as text, so that a ledger of ten million lines is checked in seconds. Text is
-- given as its UTF-8 bytes, because PostgreSQL would send it in the encoding of whoever is connected. STABLE and without a search_path
-- of its own, or PostgreSQL would not put the expression into the query; the body is bound to its functions when it is made.
ALTER TABLE ledger_line ALTER COLUMN hash_form SET DEFAULT 2;
ALTER TABLE ledger_line ADD CONSTRAINT ledger_line_hash_form_check CHECK (hash_form = 2 OR
  hash_form = 1 AND num_nonnulls(scale_id, reverses_seq, request_id) = 0);
CREATE OR REPLACE FUNCTION ledger_memento(line ledger_line) RETURNS bytea LANGUAGE sql STABLE
BEGIN ATOMIC
  SELECT CASE line.hash_form
    WHEN 1 THEN chain_memento(line.studio_id::text, line.seq::text, line.id::text, (extract(epoch FROM line.at) * 1000)::bigint::text,
      line.kind, line.lot_id::text, line.from_place, line.to_place, line.mass_mg::text, line.scale_step_mg::text, line.account_id::text,
      line.subject_id::text, line.reason, encode(line.previous_hash, 'hex'))
    ELSE record_send(ROW(line.hash_form, line.studio_id, line.seq, line.id, line.at, convert_to(line.kind, 'UTF8'), line.lot_id,
      convert_to(line.from_place, 'UTF8'), convert_to(line.to_place, 'UTF8'), line.mass_mg, line.scale_step_mg, line.account_id,
      line.subject_id, convert_to(line.reason, 'UTF8'), line.previous_hash, line.scale_id, line.reverses_seq, line.request_id)) END;
END;
ALTER FUNCTION ledger_memento(ledger_line) RESET search_path;
-- The old form leaves out what only new lines have: nobody may write in it any more.
CREATE OR REPLACE FUNCTION chain_ledger_line() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
BEGIN
  SELECT * INTO NEW.seq, NEW.previous_hash FROM take_chain_head(NEW.studio_id, 'ledger');
  NEW.hash_form := 2;
  NEW.hash := sha256(ledger_memento(NEW));
  UPDATE chain_head SET seq = NEW.seq, hash = NEW.hash WHERE studio_id = NEW.studio_id AND chain = 'ledger';
  RETURN NEW;
END $$;

-- The same checks as before in one pass over the ledger: nothing of it is kept while it is read.
CREATE OR REPLACE FUNCTION ledger_faults() RETURNS TABLE (seq bigint, fault text) LANGUAGE sql STABLE SET search_path = pg_catalog, public
  SET work_mem = '64MB' AS $$
  SELECT line.seq, f.fault FROM (
    SELECT l.seq, l.hash <> sha256(ledger_memento(l)) AS changed,
      l.previous_hash <> lag(l.hash, 1, '\x00'::bytea) OVER in_order OR l.seq <> row_number() OVER in_order AS unlinked
    FROM ledger_line l WHERE l.studio_id = current_studio() WINDOW in_order AS (ORDER BY l.seq)) AS line
  CROSS JOIN LATERAL (VALUES (line.changed, 'the line was changed'), (line.unlinked, 'the link to the line before is broken')) AS f(wrong, fault)
  WHERE (line.changed OR line.unlinked) AND f.wrong
  UNION ALL SELECT h.seq, 'the end of the ledger is missing' FROM chain_head h
    LEFT JOIN LATERAL (SELECT l.seq, l.hash FROM ledger_line l WHERE l.studio_id = h.studio_id ORDER BY l.seq DESC LIMIT 1) e ON true
    WHERE h.studio_id = current_studio() AND h.chain = 'ledger' AND (h.seq <> coalesce(e.seq, 0) OR h.hash <> coalesce(e.hash, '\x00'::bytea))
  UNION ALL SELECT NULL, 'the end of the ledger is missing' WHERE EXISTS (SELECT FROM ledger_line l WHERE l.studio_id = current_studio())
    AND NOT EXISTS (SELECT FROM chain_head h WHERE h.studio_id = current_studio() AND h.chain = 'ledger')
  UNION ALL SELECT NULL, 'the balance of ' || coalesce(b.place, m.place) || ' is not the sum of its lines'
    FROM (SELECT * FROM place_balance WHERE studio_id = current_studio()) b
    FULL JOIN (
      SELECT way.place, l.lot_id, sum(way.mass_mg) AS mass
      FROM (SELECT from_place, to_place, lot_id, sum(mass_mg) AS mass_mg FROM ledger_line WHERE studio_id = current_studio() GROUP BY 1, 2, 3) l
      CROSS JOIN LATERAL (VALUES (l.to_place, l.mass_mg), (l.from_place, -l.mass_mg)) AS way(place, mass_mg) GROUP BY 1, 2) m
    ON m.place = b.place AND m.lot_id = b.lot_id
    -- Also a row of nothing that was taken away or put elsewhere: every place that a line names keeps its row.
    WHERE b.balance_mg IS DISTINCT FROM m.mass
$$;

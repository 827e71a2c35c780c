-- What is set aside for each vehicle in stock or under cover, their sum, and what a cover leaves out and pays.
-- CreateTable
CREATE TABLE "cover_terms" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "days" INTEGER,
    "km" DOUBLE PRECISION,
    "excluded" TEXT[],
    "claim_limit" DOUBLE PRECISION,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "cover_terms_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "stock_amounts" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "basis" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "family" TEXT NOT NULL,
    "cover_days" INTEGER,
    "cover_km" DOUBLE PRECISION,
    "cover_of" TEXT,
    "amount" DOUBLE PRECISION,
    "p50" DOUBLE PRECISION,
    "p95" DOUBLE PRECISION,
    "mean" DOUBLE PRECISION,
    "mean_of_unknown" DOUBLE PRECISION,
    "by_life" JSON,
    "since_sale" JSON,

    CONSTRAINT "stock_amounts_pkey" PRIMARY KEY ("organisation_id","vehicle_id")
);

-- CreateTable
CREATE TABLE "stock_lots" (
    "organisation_id" UUID NOT NULL,
    "basis" TEXT NOT NULL,
    "content" JSON NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "stock_lots_pkey" PRIMARY KEY ("organisation_id")
);

-- CreateIndex
CREATE INDEX "cover_terms_organisation_id_vehicle_id_idx" ON "cover_terms"("organisation_id", "vehicle_id");

-- AddForeignKey
ALTER TABLE "cover_terms" ADD CONSTRAINT "cover_terms_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stock_amounts" ADD CONSTRAINT "stock_amounts_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;


-- By hand: row-level security, as for the other tables.
ALTER TABLE "cover_terms" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "cover_terms" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "cover_terms" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "stock_amounts" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "stock_amounts" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "stock_amounts" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "stock_lots" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "stock_lots" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "stock_lots" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);

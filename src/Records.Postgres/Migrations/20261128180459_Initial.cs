using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Whetwright.Records.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Abrasives",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Form = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    System = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Grade = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    D50Um = table.Column<double>(type: "double precision", nullable: true),
                    AreaPerPassMm2 = table.Column<double>(type: "double precision", nullable: true),
                    ChangeMinutes = table.Column<double>(type: "double precision", nullable: true),
                    Order = table.Column<int>(type: "integer", nullable: false),
                    Retired = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Abrasives", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "BenchDays",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Day = table.Column<DateOnly>(type: "date", nullable: false),
                    PlanJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ByHand = table.Column<bool>(type: "boolean", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_BenchDays", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Changes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    By = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    RequestId = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Verb = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    RowId = table.Column<long>(type: "bigint", nullable: true),
                    Fields = table.Column<string>(type: "text", nullable: true, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Changes", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Corrections",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    RigId = table.Column<long>(type: "bigint", nullable: false),
                    WheelId = table.Column<long>(type: "bigint", nullable: true),
                    BiasDeg = table.Column<double>(type: "double precision", nullable: false),
                    BiasUDeg = table.Column<double>(type: "double precision", nullable: false),
                    Pieces = table.Column<int>(type: "integer", nullable: false),
                    Method = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Why = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Corrections", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Diameters",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    WheelId = table.Column<long>(type: "bigint", nullable: false),
                    DiameterMm = table.Column<double>(type: "double precision", nullable: false),
                    UMm = table.Column<double>(type: "double precision", nullable: false),
                    Cause = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Diameters", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "GaugeStudies",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Unit = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    MeasurementsCsv = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ToleranceWidth = table.Column<double>(type: "double precision", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_GaugeStudies", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "HouseRules",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Kind = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: true, collation: "C"),
                    FromLengthMm = table.Column<double>(type: "double precision", nullable: true),
                    ToLengthMm = table.Column<double>(type: "double precision", nullable: true),
                    AngleDeg = table.Column<double>(type: "double precision", nullable: false),
                    MicroDeg = table.Column<double>(type: "double precision", nullable: true),
                    ToleranceDeg = table.Column<double>(type: "double precision", nullable: false),
                    Order = table.Column<int>(type: "integer", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_HouseRules", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "InstrumentChecks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Instrument = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Reference = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ReferenceDeg = table.Column<double>(type: "double precision", nullable: false),
                    ReferenceUDeg = table.Column<double>(type: "double precision", nullable: false),
                    ReadDeg = table.Column<double>(type: "double precision", nullable: false),
                    ReadUDeg = table.Column<double>(type: "double precision", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_InstrumentChecks", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Instruments",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    InstrumentJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    TargetJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    How = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Instruments", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Intakes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    OwnerId = table.Column<long>(type: "bigint", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Intakes", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Loans",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    LoanSetId = table.Column<long>(type: "bigint", nullable: false),
                    OwnerId = table.Column<long>(type: "bigint", nullable: false),
                    Out = table.Column<bool>(type: "boolean", nullable: false),
                    Count = table.Column<int>(type: "integer", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Loans", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "LoanSets",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Pieces = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_LoanSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Owners",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Phone = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Email = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Address = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Note = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    IsAccount = table.Column<bool>(type: "boolean", nullable: false),
                    SearchText = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ErasedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Owners", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Payments",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    OwnerId = table.Column<long>(type: "bigint", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: true),
                    IntakeId = table.Column<long>(type: "bigint", nullable: true),
                    AmountMinor = table.Column<long>(type: "bigint", nullable: false),
                    How = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Deposit = table.Column<bool>(type: "boolean", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Payments", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PieceSets",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    OwnerId = table.Column<long>(type: "bigint", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Expected = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PieceSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Prices",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Kind = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: true, collation: "C"),
                    FromLengthMm = table.Column<double>(type: "double precision", nullable: true),
                    ToLengthMm = table.Column<double>(type: "double precision", nullable: true),
                    Extra = table.Column<bool>(type: "boolean", nullable: false),
                    AmountMinor = table.Column<long>(type: "bigint", nullable: false),
                    Minutes = table.Column<double>(type: "double precision", nullable: false),
                    TaxRateId = table.Column<long>(type: "bigint", nullable: true),
                    OwnerId = table.Column<long>(type: "bigint", nullable: true),
                    Order = table.Column<int>(type: "integer", nullable: false),
                    Retired = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Prices", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Rigs",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    RigJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Retired = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Rigs", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "RigStands",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    RigId = table.Column<long>(type: "bigint", nullable: false),
                    WheelId = table.Column<long>(type: "bigint", nullable: true),
                    DialledMm = table.Column<double>(type: "double precision", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RigStands", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "SetCounts",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    SetId = table.Column<long>(type: "bigint", nullable: false),
                    In = table.Column<bool>(type: "boolean", nullable: false),
                    Count = table.Column<int>(type: "integer", nullable: false),
                    Difference = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SetCounts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Shop",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Address = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Conditions = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    BaseAddress = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Currency = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Culture = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    TimeZone = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Units = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Hand = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ToleranceDeg = table.Column<double>(type: "double precision", nullable: false),
                    MinutesPerDay = table.Column<double>(type: "double precision", nullable: false),
                    BenchDays = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    UncollectedAfterDays = table.Column<int>(type: "integer", nullable: false),
                    ForgetAfterMonths = table.Column<int>(type: "integer", nullable: true),
                    Invented = table.Column<bool>(type: "boolean", nullable: false),
                    NextTag = table.Column<int>(type: "integer", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Shop", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Submissions",
                columns: table => new
                {
                    Token = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false, collation: "C"),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Result = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Submissions", x => x.Token);
                });

            migrationBuilder.CreateTable(
                name: "TagBlocks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    From = table.Column<int>(type: "integer", nullable: false),
                    To = table.Column<int>(type: "integer", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TagBlocks", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "TaxRates",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    MilliPercent = table.Column<int>(type: "integer", nullable: false),
                    From = table.Column<DateOnly>(type: "date", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TaxRates", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Pieces",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    OwnerId = table.Column<long>(type: "bigint", nullable: false),
                    Kind = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    LengthMm = table.Column<double>(type: "double precision", nullable: true),
                    Hand = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Steel = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Note = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    BladeJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    SetId = table.Column<long>(type: "bigint", nullable: true),
                    Slot = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    SearchText = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Pieces", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Pieces_Owners_OwnerId",
                        column: x => x.OwnerId,
                        principalTable: "Owners",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Pieces_PieceSets_SetId",
                        column: x => x.SetId,
                        principalTable: "PieceSets",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Wheels",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    RigId = table.Column<long>(type: "bigint", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    AbrasiveId = table.Column<long>(type: "bigint", nullable: true),
                    OffsetDeg = table.Column<double>(type: "double precision", nullable: false),
                    Rpm = table.Column<double>(type: "double precision", nullable: true),
                    MarkedLimitMs = table.Column<double>(type: "double precision", nullable: true),
                    MinimumDiameterMm = table.Column<double>(type: "double precision", nullable: true),
                    Retired = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Wheels", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Wheels_Rigs_RigId",
                        column: x => x.RigId,
                        principalTable: "Rigs",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Visits",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    PieceId = table.Column<long>(type: "bigint", nullable: false),
                    Tag = table.Column<int>(type: "integer", nullable: false),
                    IntakeId = table.Column<long>(type: "bigint", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    PromisedFor = table.Column<DateOnly>(type: "date", nullable: true),
                    Wishes = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Damage = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    DamageAcknowledged = table.Column<bool>(type: "boolean", nullable: false),
                    Declined = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    ComplaintAboutId = table.Column<long>(type: "bigint", nullable: true),
                    Place = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HandBackId = table.Column<long>(type: "bigint", nullable: true),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Visits", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Visits_Intakes_IntakeId",
                        column: x => x.IntakeId,
                        principalTable: "Intakes",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Visits_Pieces_PieceId",
                        column: x => x.PieceId,
                        principalTable: "Pieces",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Aims",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Source = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    LeftDeg = table.Column<double>(type: "double precision", nullable: false),
                    RightDeg = table.Column<double>(type: "double precision", nullable: false),
                    MicroDeg = table.Column<double>(type: "double precision", nullable: true),
                    HoneDeg = table.Column<double>(type: "double precision", nullable: true),
                    ToleranceDeg = table.Column<double>(type: "double precision", nullable: false),
                    SectionJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Method = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    ReshapeJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Aims", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Aims_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "BenchEvents",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Kind = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    Stage = table.Column<int>(type: "integer", nullable: true),
                    AtPass = table.Column<int>(type: "integer", nullable: true),
                    AbrasiveId = table.Column<long>(type: "bigint", nullable: true),
                    DataJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Note = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_BenchEvents", x => x.Id);
                    table.ForeignKey(
                        name: "FK_BenchEvents_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Charges",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    AmountMinor = table.Column<long>(type: "bigint", nullable: false),
                    TaxMilliPercent = table.Column<int>(type: "integer", nullable: false),
                    PriceLineId = table.Column<long>(type: "bigint", nullable: true),
                    Minutes = table.Column<double>(type: "double precision", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Charges", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Charges_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "CutTests",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Medium = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Heel = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Middle = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Tip = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CutTests", x => x.Id);
                    table.ForeignKey(
                        name: "FK_CutTests_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "HandBacks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    To = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    EdgeNote = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_HandBacks", x => x.Id);
                    table.ForeignKey(
                        name: "FK_HandBacks_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Mounts",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Tip = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    MarksJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    PhotoId = table.Column<long>(type: "bigint", nullable: true),
                    DarkPhotoId = table.Column<long>(type: "bigint", nullable: true),
                    InstrumentId = table.Column<long>(type: "bigint", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Mounts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Mounts_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Outlines",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    PhotoId = table.Column<long>(type: "bigint", nullable: true),
                    ResultJson = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    Method = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    LengthMm = table.Column<double>(type: "double precision", nullable: true),
                    HeightMm = table.Column<double>(type: "double precision", nullable: true),
                    ChipMm = table.Column<double>(type: "double precision", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Outlines", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Outlines_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Passes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    AbrasiveId = table.Column<long>(type: "bigint", nullable: true),
                    WheelId = table.Column<long>(type: "bigint", nullable: true),
                    Side = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Count = table.Column<int>(type: "integer", nullable: false),
                    Stage = table.Column<int>(type: "integer", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Passes", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Passes_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Photos",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Hash = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ContentType = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Bytes = table.Column<long>(type: "bigint", nullable: false),
                    WidthPx = table.Column<int>(type: "integer", nullable: false),
                    HeightPx = table.Column<int>(type: "integer", nullable: false),
                    Subject = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    VisitId = table.Column<long>(type: "bigint", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Photos", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Photos_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Readings",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Purpose = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    MountIds = table.Column<long[]>(type: "bigint[]", nullable: false),
                    Method = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    MethodVersion = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    InputsJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ResultJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Outcome = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    IncludedDeg = table.Column<double>(type: "double precision", nullable: true),
                    IncludedUDeg = table.Column<double>(type: "double precision", nullable: true),
                    LeftDeg = table.Column<double>(type: "double precision", nullable: true),
                    LeftUDeg = table.Column<double>(type: "double precision", nullable: true),
                    RightDeg = table.Column<double>(type: "double precision", nullable: true),
                    RightUDeg = table.Column<double>(type: "double precision", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Readings", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Readings_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ReadyNotices",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    How = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ReadyNotices", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ReadyNotices_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Sections",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    BehindEdgeMm = table.Column<double>(type: "double precision", nullable: true),
                    PrimaryHalfDeg = table.Column<double>(type: "double precision", nullable: true),
                    LandMm = table.Column<double>(type: "double precision", nullable: true),
                    ChipMm = table.Column<double>(type: "double precision", nullable: true),
                    SpineMm = table.Column<double>(type: "double precision", nullable: true),
                    HeightMm = table.Column<double>(type: "double precision", nullable: true),
                    BendMm = table.Column<double>(type: "double precision", nullable: true),
                    Seen = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Sections", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Sections_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Settings",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    RigId = table.Column<long>(type: "bigint", nullable: false),
                    DiameterIds = table.Column<long[]>(type: "bigint[]", nullable: false),
                    AimId = table.Column<long>(type: "bigint", nullable: true),
                    InputsJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    ResultJson = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    Method = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    JawFromHeelMm = table.Column<double>(type: "double precision", nullable: true),
                    ProtrusionMm = table.Column<double>(type: "double precision", nullable: true),
                    PivotXMm = table.Column<double>(type: "double precision", nullable: true),
                    PivotYMm = table.Column<double>(type: "double precision", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Settings", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Settings_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Steels",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Source = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    HardnessHrc = table.Column<double>(type: "double precision", nullable: false),
                    CementitePercent = table.Column<double>(type: "double precision", nullable: false),
                    ChromiumCarbidePercent = table.Column<double>(type: "double precision", nullable: false),
                    ChromiumVanadiumCarbidePercent = table.Column<double>(type: "double precision", nullable: false),
                    VanadiumCarbidePercent = table.Column<double>(type: "double precision", nullable: false),
                    TungstenCarbidePercent = table.Column<double>(type: "double precision", nullable: false),
                    VanadiumNitridePercent = table.Column<double>(type: "double precision", nullable: false),
                    ChromiumNitridePercent = table.Column<double>(type: "double precision", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Steels", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Steels_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "StepMarks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Step = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    State = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false, collation: "C"),
                    Why = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_StepMarks", x => x.Id);
                    table.ForeignKey(
                        name: "FK_StepMarks_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "TouchOffs",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    SettingId = table.Column<long>(type: "bigint", nullable: false),
                    WheelId = table.Column<long>(type: "bigint", nullable: true),
                    ExpectedMm = table.Column<double>(type: "double precision", nullable: false),
                    MeasuredMm = table.Column<double>(type: "double precision", nullable: false),
                    Accepted = table.Column<bool>(type: "boolean", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TouchOffs", x => x.Id);
                    table.ForeignKey(
                        name: "FK_TouchOffs_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "VisitNotes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Text = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    HappenedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    EnteredBy = table.Column<string>(type: "text", nullable: true, collation: "C"),
                    CorrectsId = table.Column<long>(type: "bigint", nullable: true),
                    Withdrawn = table.Column<bool>(type: "boolean", nullable: false),
                    VisitId = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_VisitNotes", x => x.Id);
                    table.ForeignKey(
                        name: "FK_VisitNotes_Visits_VisitId",
                        column: x => x.VisitId,
                        principalTable: "Visits",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Aims_CorrectsId",
                table: "Aims",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Aims_VisitId",
                table: "Aims",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_BenchDays_CorrectsId",
                table: "BenchDays",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_BenchDays_Day",
                table: "BenchDays",
                column: "Day");

            migrationBuilder.CreateIndex(
                name: "IX_BenchEvents_CorrectsId",
                table: "BenchEvents",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_BenchEvents_VisitId",
                table: "BenchEvents",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Charges_CorrectsId",
                table: "Charges",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Charges_HappenedAt",
                table: "Charges",
                column: "HappenedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Charges_VisitId",
                table: "Charges",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Corrections_CorrectsId",
                table: "Corrections",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Corrections_RigId",
                table: "Corrections",
                column: "RigId");

            migrationBuilder.CreateIndex(
                name: "IX_CutTests_CorrectsId",
                table: "CutTests",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_CutTests_VisitId",
                table: "CutTests",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Diameters_CorrectsId",
                table: "Diameters",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Diameters_WheelId",
                table: "Diameters",
                column: "WheelId");

            migrationBuilder.CreateIndex(
                name: "IX_GaugeStudies_CorrectsId",
                table: "GaugeStudies",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_HandBacks_CorrectsId",
                table: "HandBacks",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_HandBacks_VisitId",
                table: "HandBacks",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_InstrumentChecks_CorrectsId",
                table: "InstrumentChecks",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Instruments_CorrectsId",
                table: "Instruments",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Intakes_OwnerId",
                table: "Intakes",
                column: "OwnerId");

            migrationBuilder.CreateIndex(
                name: "IX_Loans_CorrectsId",
                table: "Loans",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Mounts_CorrectsId",
                table: "Mounts",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Mounts_VisitId",
                table: "Mounts",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Outlines_CorrectsId",
                table: "Outlines",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Outlines_VisitId",
                table: "Outlines",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Owners_Name",
                table: "Owners",
                column: "Name");

            migrationBuilder.CreateIndex(
                name: "IX_Passes_CorrectsId",
                table: "Passes",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Passes_VisitId",
                table: "Passes",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Payments_CorrectsId",
                table: "Payments",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Payments_HappenedAt",
                table: "Payments",
                column: "HappenedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Payments_IntakeId",
                table: "Payments",
                column: "IntakeId");

            migrationBuilder.CreateIndex(
                name: "IX_Payments_OwnerId",
                table: "Payments",
                column: "OwnerId");

            migrationBuilder.CreateIndex(
                name: "IX_Payments_VisitId",
                table: "Payments",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Photos_Hash",
                table: "Photos",
                column: "Hash");

            migrationBuilder.CreateIndex(
                name: "IX_Photos_VisitId",
                table: "Photos",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_Kind_LengthMm",
                table: "Pieces",
                columns: new[] { "Kind", "LengthMm" });

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_OwnerId",
                table: "Pieces",
                column: "OwnerId");

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_SetId",
                table: "Pieces",
                column: "SetId");

            migrationBuilder.CreateIndex(
                name: "IX_Readings_CorrectsId",
                table: "Readings",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Readings_VisitId",
                table: "Readings",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_ReadyNotices_CorrectsId",
                table: "ReadyNotices",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_ReadyNotices_VisitId",
                table: "ReadyNotices",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_RigStands_CorrectsId",
                table: "RigStands",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_RigStands_RigId",
                table: "RigStands",
                column: "RigId");

            migrationBuilder.CreateIndex(
                name: "IX_Sections_CorrectsId",
                table: "Sections",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Sections_VisitId",
                table: "Sections",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_SetCounts_CorrectsId",
                table: "SetCounts",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Settings_CorrectsId",
                table: "Settings",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Settings_VisitId",
                table: "Settings",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Steels_CorrectsId",
                table: "Steels",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Steels_VisitId",
                table: "Steels",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_StepMarks_CorrectsId",
                table: "StepMarks",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_StepMarks_VisitId",
                table: "StepMarks",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_TouchOffs_CorrectsId",
                table: "TouchOffs",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_TouchOffs_VisitId",
                table: "TouchOffs",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_VisitNotes_CorrectsId",
                table: "VisitNotes",
                column: "CorrectsId",
                filter: "\"CorrectsId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_VisitNotes_VisitId",
                table: "VisitNotes",
                column: "VisitId");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_ComplaintAboutId",
                table: "Visits",
                column: "ComplaintAboutId",
                filter: "\"ComplaintAboutId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_HandBackId",
                table: "Visits",
                column: "HandBackId");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_HappenedAt",
                table: "Visits",
                column: "HappenedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_IntakeId",
                table: "Visits",
                column: "IntakeId");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_PieceId",
                table: "Visits",
                column: "PieceId");

            migrationBuilder.CreateIndex(
                name: "IX_Visits_Tag",
                table: "Visits",
                column: "Tag",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Wheels_RigId",
                table: "Wheels",
                column: "RigId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Abrasives");

            migrationBuilder.DropTable(
                name: "Aims");

            migrationBuilder.DropTable(
                name: "BenchDays");

            migrationBuilder.DropTable(
                name: "BenchEvents");

            migrationBuilder.DropTable(
                name: "Changes");

            migrationBuilder.DropTable(
                name: "Charges");

            migrationBuilder.DropTable(
                name: "Corrections");

            migrationBuilder.DropTable(
                name: "CutTests");

            migrationBuilder.DropTable(
                name: "Diameters");

            migrationBuilder.DropTable(
                name: "GaugeStudies");

            migrationBuilder.DropTable(
                name: "HandBacks");

            migrationBuilder.DropTable(
                name: "HouseRules");

            migrationBuilder.DropTable(
                name: "InstrumentChecks");

            migrationBuilder.DropTable(
                name: "Instruments");

            migrationBuilder.DropTable(
                name: "Loans");

            migrationBuilder.DropTable(
                name: "LoanSets");

            migrationBuilder.DropTable(
                name: "Mounts");

            migrationBuilder.DropTable(
                name: "Outlines");

            migrationBuilder.DropTable(
                name: "Passes");

            migrationBuilder.DropTable(
                name: "Payments");

            migrationBuilder.DropTable(
                name: "Photos");

            migrationBuilder.DropTable(
                name: "Prices");

            migrationBuilder.DropTable(
                name: "Readings");

            migrationBuilder.DropTable(
                name: "ReadyNotices");

            migrationBuilder.DropTable(
                name: "RigStands");

            migrationBuilder.DropTable(
                name: "Sections");

            migrationBuilder.DropTable(
                name: "SetCounts");

            migrationBuilder.DropTable(
                name: "Settings");

            migrationBuilder.DropTable(
                name: "Shop");

            migrationBuilder.DropTable(
                name: "Steels");

            migrationBuilder.DropTable(
                name: "StepMarks");

            migrationBuilder.DropTable(
                name: "Submissions");

            migrationBuilder.DropTable(
                name: "TagBlocks");

            migrationBuilder.DropTable(
                name: "TaxRates");

            migrationBuilder.DropTable(
                name: "TouchOffs");

            migrationBuilder.DropTable(
                name: "VisitNotes");

            migrationBuilder.DropTable(
                name: "Wheels");

            migrationBuilder.DropTable(
                name: "Visits");

            migrationBuilder.DropTable(
                name: "Rigs");

            migrationBuilder.DropTable(
                name: "Intakes");

            migrationBuilder.DropTable(
                name: "Pieces");

            migrationBuilder.DropTable(
                name: "Owners");

            migrationBuilder.DropTable(
                name: "PieceSets");
        }
    }
}

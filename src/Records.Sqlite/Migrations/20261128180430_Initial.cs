using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Whetwright.Records.Sqlite.Migrations
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    System = table.Column<string>(type: "TEXT", nullable: true),
                    Grade = table.Column<string>(type: "TEXT", nullable: true),
                    D50Um = table.Column<double>(type: "REAL", nullable: true),
                    AreaPerPassMm2 = table.Column<double>(type: "REAL", nullable: true),
                    ChangeMinutes = table.Column<double>(type: "REAL", nullable: true),
                    Order = table.Column<int>(type: "INTEGER", nullable: false),
                    Retired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Abrasives", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "BenchDays",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    PlanJson = table.Column<string>(type: "TEXT", nullable: false),
                    ByHand = table.Column<bool>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_BenchDays", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Changes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: true),
                    RequestId = table.Column<string>(type: "TEXT", nullable: true),
                    Verb = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    RowId = table.Column<long>(type: "INTEGER", nullable: true),
                    Fields = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Changes", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Corrections",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    RigId = table.Column<long>(type: "INTEGER", nullable: false),
                    WheelId = table.Column<long>(type: "INTEGER", nullable: true),
                    BiasDeg = table.Column<double>(type: "REAL", nullable: false),
                    BiasUDeg = table.Column<double>(type: "REAL", nullable: false),
                    Pieces = table.Column<int>(type: "INTEGER", nullable: false),
                    Method = table.Column<string>(type: "TEXT", nullable: true),
                    Why = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Corrections", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Diameters",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    WheelId = table.Column<long>(type: "INTEGER", nullable: false),
                    DiameterMm = table.Column<double>(type: "REAL", nullable: false),
                    UMm = table.Column<double>(type: "REAL", nullable: false),
                    Cause = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Diameters", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "GaugeStudies",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Unit = table.Column<string>(type: "TEXT", nullable: false),
                    MeasurementsCsv = table.Column<string>(type: "TEXT", nullable: false),
                    ToleranceWidth = table.Column<double>(type: "REAL", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_GaugeStudies", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "HouseRules",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 24, nullable: true),
                    FromLengthMm = table.Column<double>(type: "REAL", nullable: true),
                    ToLengthMm = table.Column<double>(type: "REAL", nullable: true),
                    AngleDeg = table.Column<double>(type: "REAL", nullable: false),
                    MicroDeg = table.Column<double>(type: "REAL", nullable: true),
                    ToleranceDeg = table.Column<double>(type: "REAL", nullable: false),
                    Order = table.Column<int>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_HouseRules", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "InstrumentChecks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Instrument = table.Column<string>(type: "TEXT", nullable: false),
                    Reference = table.Column<string>(type: "TEXT", nullable: false),
                    ReferenceDeg = table.Column<double>(type: "REAL", nullable: false),
                    ReferenceUDeg = table.Column<double>(type: "REAL", nullable: false),
                    ReadDeg = table.Column<double>(type: "REAL", nullable: false),
                    ReadUDeg = table.Column<double>(type: "REAL", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_InstrumentChecks", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Instruments",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    InstrumentJson = table.Column<string>(type: "TEXT", nullable: false),
                    TargetJson = table.Column<string>(type: "TEXT", nullable: true),
                    How = table.Column<string>(type: "TEXT", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Instruments", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Intakes",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Intakes", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Loans",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    LoanSetId = table.Column<long>(type: "INTEGER", nullable: false),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: false),
                    Out = table.Column<bool>(type: "INTEGER", nullable: false),
                    Count = table.Column<int>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Loans", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "LoanSets",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Pieces = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_LoanSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Owners",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Phone = table.Column<string>(type: "TEXT", nullable: true),
                    Email = table.Column<string>(type: "TEXT", nullable: true),
                    Address = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    IsAccount = table.Column<bool>(type: "INTEGER", nullable: false),
                    SearchText = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    ErasedAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Owners", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Payments",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: true),
                    IntakeId = table.Column<long>(type: "INTEGER", nullable: true),
                    AmountMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    How = table.Column<string>(type: "TEXT", nullable: false),
                    Deposit = table.Column<bool>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Payments", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PieceSets",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Expected = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PieceSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Prices",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 24, nullable: true),
                    FromLengthMm = table.Column<double>(type: "REAL", nullable: true),
                    ToLengthMm = table.Column<double>(type: "REAL", nullable: true),
                    Extra = table.Column<bool>(type: "INTEGER", nullable: false),
                    AmountMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    Minutes = table.Column<double>(type: "REAL", nullable: false),
                    TaxRateId = table.Column<long>(type: "INTEGER", nullable: true),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: true),
                    Order = table.Column<int>(type: "INTEGER", nullable: false),
                    Retired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Prices", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Rigs",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    RigJson = table.Column<string>(type: "TEXT", nullable: false),
                    Retired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Rigs", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "RigStands",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    RigId = table.Column<long>(type: "INTEGER", nullable: false),
                    WheelId = table.Column<long>(type: "INTEGER", nullable: true),
                    DialledMm = table.Column<double>(type: "REAL", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RigStands", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "SetCounts",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    SetId = table.Column<long>(type: "INTEGER", nullable: false),
                    In = table.Column<bool>(type: "INTEGER", nullable: false),
                    Count = table.Column<int>(type: "INTEGER", nullable: false),
                    Difference = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SetCounts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Shop",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Address = table.Column<string>(type: "TEXT", nullable: true),
                    Conditions = table.Column<string>(type: "TEXT", nullable: true),
                    BaseAddress = table.Column<string>(type: "TEXT", nullable: true),
                    Currency = table.Column<string>(type: "TEXT", nullable: false),
                    Culture = table.Column<string>(type: "TEXT", nullable: false),
                    TimeZone = table.Column<string>(type: "TEXT", nullable: false),
                    Units = table.Column<string>(type: "TEXT", nullable: false),
                    Hand = table.Column<string>(type: "TEXT", nullable: false),
                    ToleranceDeg = table.Column<double>(type: "REAL", nullable: false),
                    MinutesPerDay = table.Column<double>(type: "REAL", nullable: false),
                    BenchDays = table.Column<string>(type: "TEXT", nullable: false),
                    UncollectedAfterDays = table.Column<int>(type: "INTEGER", nullable: false),
                    ForgetAfterMonths = table.Column<int>(type: "INTEGER", nullable: true),
                    Invented = table.Column<bool>(type: "INTEGER", nullable: false),
                    NextTag = table.Column<int>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Shop", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Submissions",
                columns: table => new
                {
                    Token = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    Result = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Submissions", x => x.Token);
                });

            migrationBuilder.CreateTable(
                name: "TagBlocks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    From = table.Column<int>(type: "INTEGER", nullable: false),
                    To = table.Column<int>(type: "INTEGER", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TagBlocks", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "TaxRates",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    MilliPercent = table.Column<int>(type: "INTEGER", nullable: false),
                    From = table.Column<DateOnly>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TaxRates", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Pieces",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    OwnerId = table.Column<long>(type: "INTEGER", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    LengthMm = table.Column<double>(type: "REAL", nullable: true),
                    Hand = table.Column<string>(type: "TEXT", nullable: true),
                    Steel = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    BladeJson = table.Column<string>(type: "TEXT", nullable: true),
                    SetId = table.Column<long>(type: "INTEGER", nullable: true),
                    Slot = table.Column<string>(type: "TEXT", nullable: true),
                    SearchText = table.Column<string>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    RigId = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    AbrasiveId = table.Column<long>(type: "INTEGER", nullable: true),
                    OffsetDeg = table.Column<double>(type: "REAL", nullable: false),
                    Rpm = table.Column<double>(type: "REAL", nullable: true),
                    MarkedLimitMs = table.Column<double>(type: "REAL", nullable: true),
                    MinimumDiameterMm = table.Column<double>(type: "REAL", nullable: true),
                    Retired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    PieceId = table.Column<long>(type: "INTEGER", nullable: false),
                    Tag = table.Column<int>(type: "INTEGER", nullable: false),
                    IntakeId = table.Column<long>(type: "INTEGER", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    PromisedFor = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    Wishes = table.Column<string>(type: "TEXT", nullable: true),
                    Damage = table.Column<string>(type: "TEXT", nullable: true),
                    DamageAcknowledged = table.Column<bool>(type: "INTEGER", nullable: false),
                    Declined = table.Column<string>(type: "TEXT", nullable: true),
                    ComplaintAboutId = table.Column<long>(type: "INTEGER", nullable: true),
                    Place = table.Column<string>(type: "TEXT", nullable: true),
                    HandBackId = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Source = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    LeftDeg = table.Column<double>(type: "REAL", nullable: false),
                    RightDeg = table.Column<double>(type: "REAL", nullable: false),
                    MicroDeg = table.Column<double>(type: "REAL", nullable: true),
                    HoneDeg = table.Column<double>(type: "REAL", nullable: true),
                    ToleranceDeg = table.Column<double>(type: "REAL", nullable: false),
                    SectionJson = table.Column<string>(type: "TEXT", nullable: true),
                    Method = table.Column<string>(type: "TEXT", nullable: true),
                    ReshapeJson = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Stage = table.Column<int>(type: "INTEGER", nullable: true),
                    AtPass = table.Column<int>(type: "INTEGER", nullable: true),
                    AbrasiveId = table.Column<long>(type: "INTEGER", nullable: true),
                    DataJson = table.Column<string>(type: "TEXT", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Text = table.Column<string>(type: "TEXT", nullable: false),
                    AmountMinor = table.Column<long>(type: "INTEGER", nullable: false),
                    TaxMilliPercent = table.Column<int>(type: "INTEGER", nullable: false),
                    PriceLineId = table.Column<long>(type: "INTEGER", nullable: true),
                    Minutes = table.Column<double>(type: "REAL", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Medium = table.Column<string>(type: "TEXT", nullable: false),
                    Heel = table.Column<string>(type: "TEXT", nullable: true),
                    Middle = table.Column<string>(type: "TEXT", nullable: true),
                    Tip = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    To = table.Column<string>(type: "TEXT", nullable: true),
                    EdgeNote = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Tip = table.Column<string>(type: "TEXT", nullable: true),
                    MarksJson = table.Column<string>(type: "TEXT", nullable: true),
                    PhotoId = table.Column<long>(type: "INTEGER", nullable: true),
                    DarkPhotoId = table.Column<long>(type: "INTEGER", nullable: true),
                    InstrumentId = table.Column<long>(type: "INTEGER", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    PhotoId = table.Column<long>(type: "INTEGER", nullable: true),
                    ResultJson = table.Column<string>(type: "TEXT", nullable: true),
                    Method = table.Column<string>(type: "TEXT", nullable: true),
                    LengthMm = table.Column<double>(type: "REAL", nullable: true),
                    HeightMm = table.Column<double>(type: "REAL", nullable: true),
                    ChipMm = table.Column<double>(type: "REAL", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    AbrasiveId = table.Column<long>(type: "INTEGER", nullable: true),
                    WheelId = table.Column<long>(type: "INTEGER", nullable: true),
                    Side = table.Column<string>(type: "TEXT", nullable: false),
                    Count = table.Column<int>(type: "INTEGER", nullable: false),
                    Stage = table.Column<int>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Hash = table.Column<string>(type: "TEXT", nullable: false),
                    ContentType = table.Column<string>(type: "TEXT", nullable: false),
                    Bytes = table.Column<long>(type: "INTEGER", nullable: false),
                    WidthPx = table.Column<int>(type: "INTEGER", nullable: false),
                    HeightPx = table.Column<int>(type: "INTEGER", nullable: false),
                    Subject = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Purpose = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    MountIds = table.Column<string>(type: "TEXT", nullable: false),
                    Method = table.Column<string>(type: "TEXT", nullable: false),
                    MethodVersion = table.Column<string>(type: "TEXT", nullable: false),
                    InputsJson = table.Column<string>(type: "TEXT", nullable: false),
                    ResultJson = table.Column<string>(type: "TEXT", nullable: false),
                    Outcome = table.Column<string>(type: "TEXT", nullable: false),
                    IncludedDeg = table.Column<double>(type: "REAL", nullable: true),
                    IncludedUDeg = table.Column<double>(type: "REAL", nullable: true),
                    LeftDeg = table.Column<double>(type: "REAL", nullable: true),
                    LeftUDeg = table.Column<double>(type: "REAL", nullable: true),
                    RightDeg = table.Column<double>(type: "REAL", nullable: true),
                    RightUDeg = table.Column<double>(type: "REAL", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    How = table.Column<string>(type: "TEXT", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    BehindEdgeMm = table.Column<double>(type: "REAL", nullable: true),
                    PrimaryHalfDeg = table.Column<double>(type: "REAL", nullable: true),
                    LandMm = table.Column<double>(type: "REAL", nullable: true),
                    ChipMm = table.Column<double>(type: "REAL", nullable: true),
                    SpineMm = table.Column<double>(type: "REAL", nullable: true),
                    HeightMm = table.Column<double>(type: "REAL", nullable: true),
                    BendMm = table.Column<double>(type: "REAL", nullable: true),
                    Seen = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    RigId = table.Column<long>(type: "INTEGER", nullable: false),
                    DiameterIds = table.Column<string>(type: "TEXT", nullable: false),
                    AimId = table.Column<long>(type: "INTEGER", nullable: true),
                    InputsJson = table.Column<string>(type: "TEXT", nullable: false),
                    ResultJson = table.Column<string>(type: "TEXT", nullable: false),
                    Method = table.Column<string>(type: "TEXT", nullable: false),
                    JawFromHeelMm = table.Column<double>(type: "REAL", nullable: true),
                    ProtrusionMm = table.Column<double>(type: "REAL", nullable: true),
                    PivotXMm = table.Column<double>(type: "REAL", nullable: true),
                    PivotYMm = table.Column<double>(type: "REAL", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Source = table.Column<string>(type: "TEXT", nullable: false),
                    HardnessHrc = table.Column<double>(type: "REAL", nullable: false),
                    CementitePercent = table.Column<double>(type: "REAL", nullable: false),
                    ChromiumCarbidePercent = table.Column<double>(type: "REAL", nullable: false),
                    ChromiumVanadiumCarbidePercent = table.Column<double>(type: "REAL", nullable: false),
                    VanadiumCarbidePercent = table.Column<double>(type: "REAL", nullable: false),
                    TungstenCarbidePercent = table.Column<double>(type: "REAL", nullable: false),
                    VanadiumNitridePercent = table.Column<double>(type: "REAL", nullable: false),
                    ChromiumNitridePercent = table.Column<double>(type: "REAL", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Step = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    State = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Why = table.Column<string>(type: "TEXT", nullable: true),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    SettingId = table.Column<long>(type: "INTEGER", nullable: false),
                    WheelId = table.Column<long>(type: "INTEGER", nullable: true),
                    ExpectedMm = table.Column<double>(type: "REAL", nullable: false),
                    MeasuredMm = table.Column<double>(type: "REAL", nullable: false),
                    Accepted = table.Column<bool>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Text = table.Column<string>(type: "TEXT", nullable: false),
                    HappenedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    EnteredBy = table.Column<string>(type: "TEXT", nullable: true),
                    CorrectsId = table.Column<long>(type: "INTEGER", nullable: true),
                    Withdrawn = table.Column<bool>(type: "INTEGER", nullable: false),
                    VisitId = table.Column<long>(type: "INTEGER", nullable: false)
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

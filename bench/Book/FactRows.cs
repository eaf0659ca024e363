using Microsoft.Data.Sqlite;

namespace Whetwright.Book;

/// <summary>The facts that visits leave, as far as each has come.</summary>
internal sealed class FactRows : IDisposable
{
    private static readonly string Json = $"{{\"invented\":\"{new string('x', 600)}\"}}";

    private readonly SqliteConnection connection;
    private readonly Inserter mounts, readings, aims, settings, touches, passes, marks, cuts, charges, payments, handBacks, notices;

    public FactRows(SqliteConnection connection)
    {
        this.connection = connection;
        mounts = new(connection, "Mounts", "VisitId Tip MarksJson", fact: true);
        readings = new(connection, "Readings", "VisitId Purpose MountIds Method MethodVersion InputsJson ResultJson Outcome IncludedDeg LeftDeg RightDeg", fact: true);
        aims = new(connection, "Aims", "Id VisitId Source LeftDeg RightDeg ToleranceDeg SectionJson", fact: true);
        settings = new(connection, "Settings", "Id VisitId RigId DiameterIds AimId InputsJson ResultJson Method", fact: true);
        touches = new(connection, "TouchOffs", "VisitId SettingId ExpectedMm MeasuredMm Accepted", fact: true);
        passes = new(connection, "Passes", "VisitId AbrasiveId Side Count Stage", fact: true);
        marks = new(connection, "StepMarks", "VisitId Step State", fact: true);
        cuts = new(connection, "CutTests", "VisitId Medium Heel Middle Tip", fact: true);
        charges = new(connection, "Charges", "VisitId Text AmountMinor TaxMilliPercent Minutes", fact: true);
        payments = new(connection, "Payments", "OwnerId VisitId AmountMinor How Deposit", fact: true);
        handBacks = new(connection, "HandBacks", "Id VisitId EdgeNote", fact: true);
        notices = new(connection, "ReadyNotices", "VisitId How", fact: true);
    }

    /// <summary>One rig with two wheels, dressed every fortnight for twelve years.</summary>
    public void Kit(DateTime start)
    {
        using Inserter rigs = new(connection, "Rigs", "Id Name RigJson Retired Version");
        using Inserter wheels = new(connection, "Wheels", "Id RigId Name OffsetDeg Retired Version");
        using Inserter diameters = new(connection, "Diameters", "Id WheelId DiameterMm UMm Cause", fact: true);
        rigs.Add(1, "invented rig", "{}", 0, 0);
        wheels.Add(1, 1, "coarse", 0.0, 0, 0);
        wheels.Add(2, 1, "fine", 0.0, 0, 0);
        for (int i = 0; i < 624; i++)
            diameters.AddFact(start.AddDays(7 * i), i + 1, 1 + (i % 2), 250 - (i * 0.1), 0.1, "Dressed");
    }

    public void Of(int v, DateTime at, Random random, int stage)
    {
        double deg = Math.Round(11 + (7 * random.NextDouble()), 1);
        charges.AddFact(at, v, "edge", 600 + (100 * random.Next(10)), 19000, 10.0);
        if (stage > 0)
        {
            mounts.AddFact(at.AddMinutes(1), v, "up", "{\"scale\":\"bevel\"}");
            readings.AddFact(at.AddMinutes(2), v, "Found", "[]", "reading-combination", "1", Json, Json, "read", 2 * deg, deg, deg);
        }

        if (stage > 1)
            aims.AddFact(at.AddMinutes(3), v, v, "Found", deg, deg, 0.5, Json);
        if (stage > 2)
        {
            settings.AddFact(at.AddMinutes(4), v, v, 1, $"[{1 + (v % 624)}]", v, Json, Json, "clamp-search");
            touches.AddFact(at.AddMinutes(5), v, v, 60.0, 60.1, 1);
        }

        if (stage > 3)
        {
            passes.AddFact(at.AddMinutes(6), v, 1, "left", 8, 1);
            passes.AddFact(at.AddMinutes(7), v, 1, "right", 8, 1);
        }

        if (stage > 4)
            marks.AddFact(at.AddMinutes(8), v, "Grind", "Done");
        if (stage > 5)
            marks.AddFact(at.AddMinutes(9), v, "Finish", "Done");
        if (stage > 6)
        {
            readings.AddFact(at.AddMinutes(10), v, "Check", "[]", "reading-combination", "1", Json, Json, "read", 2 * deg, deg, deg);
            cuts.AddFact(at.AddMinutes(11), v, "newsprint", "clean", "clean", "catches");
            marks.AddFact(at.AddMinutes(12), v, "Check", "Done");
            notices.AddFact(at.AddMinutes(13), v, "sms");
        }

        if (stage > 7)
        {
            payments.AddFact(at.AddDays(2), 1, v, 1000, "cash", 0);
            handBacks.AddFact(at.AddDays(2), v, v, "edge note");
        }
    }

    public void Dispose()
    {
        foreach (Inserter inserter in new[] { mounts, readings, aims, settings, touches, passes, marks, cuts, charges, payments, handBacks, notices })
            inserter.Dispose();
    }
}

using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Saving;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>One placing of the blade, its fields.</summary>
public sealed record MountFields(ChoiceField Tip, TextField LeftEdge, TextField LeftPrimary, TextField LeftMicro, TextField RightEdge, TextField RightPrimary, TextField RightMicro)
{
    /// <summary>Something was typed.</summary>
    public bool Filled => ((TextField[])[LeftEdge, LeftPrimary, LeftMicro, RightEdge, RightPrimary, RightMicro]).Any(f => f.Typed.Length > 0);

    internal TypedMount Typed => new(Tip.Value, new(LeftEdge.Typed, LeftPrimary.Typed, LeftMicro.Typed), new(RightEdge.Typed, RightPrimary.Typed, RightMicro.Typed));

    internal FormField Of(string path) => path switch
    {
        "tip" => Tip,
        "left.primary" => LeftPrimary,
        "left.micro" => LeftMicro,
        "right.edge" => RightEdge,
        "right.primary" => RightPrimary,
        "right.micro" => RightMicro,
        _ => LeftEdge,
    };
}

/// <summary>Marks read by eye.</summary>
public sealed class MarksForm : WebForm
{
    /// <summary>Placings that the page offers.</summary>
    public const int Placings = 3;

    internal MarksForm(BenchKit kit, UnitsView units)
    {
        Scale = Add(new ChoiceField("scale", "The numbers are", [new("bevel", "Bevel", "degrees per side"), new("deflection", "Deflection", "degrees the light turns"), new("target-mm", "Millimetres", "from the target's zero")]) { Required = true });
        Resolution = Add(new TextField("resolution", "Finest step you can tell") { Required = true, MaxLength = 20, Hint = "Degrees on a degree scale, mm on a millimetre scale." });
        List<MountFields> mounts = [];
        for (int i = 0; i < Placings; i++)
        {
            string of = i == 0 ? "" : $", placing {i + 1}";
            mounts.Add(new(
                Add(new ChoiceField($"m{i}-tip", "Where is the tip?" + (i == 0 ? "" : $" (placing {i + 1})"), [new("up", "Up"), new("down", "Down")])),
                Mark(i, "left-edge", "Left, edge" + of), Mark(i, "left-primary", "Left, primary" + of), Mark(i, "left-micro", "Left, micro-bevel" + of),
                Mark(i, "right-edge", "Right, edge" + of), Mark(i, "right-primary", "Right, primary" + of), Mark(i, "right-micro", "Right, micro-bevel" + of)));
        }

        Mounts = mounts;
        Instrument = Add(InstrumentChoice.ForMarks(kit));
        PrintedFor = Add(new TextField("printedFor", "The degree scale was printed for") { MaxLength = 20, Hint = "Distance in mm; empty where it is the instrument's own." });
        Distance = Add(new LengthField("distance", "Edge to target", units) { MinMm = 5, MaxMm = 5000, Hint = "Only where it is another than the instrument's; needed for millimetres without an instrument." });
        Scale.Fill("bevel");
        Resolution.Typed = units.Typed(0.5);
        Mounts[0].Tip.Fill("up");
    }

    /// <summary>What the numbers mean.</summary>
    public ChoiceField Scale { get; }

    /// <summary>Finest step.</summary>
    public TextField Resolution { get; }

    /// <summary>Placings.</summary>
    public IReadOnlyList<MountFields> Mounts { get; }

    /// <summary>Instrument.</summary>
    public ChoiceField Instrument { get; }

    /// <summary>Printed for.</summary>
    public TextField PrintedFor { get; }

    /// <summary>Distance told.</summary>
    public LengthField Distance { get; }

    internal TypedMarks Typed => new(Scale.Value ?? "bevel", Resolution.Typed, PrintedFor.Typed, [.. Mounts.Select(m => m.Typed)]);

    /// <summary>Puts what is wrong beside its field.</summary>
    internal void Refuse(TypedFault fault)
    {
        FormField? field = fault.Field switch
        {
            "resolution" => Resolution,
            "printedFor" => PrintedFor,
            "distance" => Distance,
            _ when fault.Field.StartsWith("mounts[", StringComparison.Ordinal) && fault.Field[7] - '0' is >= 0 and < Placings and var i => Mounts[i].Of(fault.Field[(fault.Field.IndexOf('.', StringComparison.Ordinal) + 1)..]),
            _ => null,
        };
        string plain = fault.Text.StartsWith(fault.Field + ": ", StringComparison.Ordinal) ? fault.Text[(fault.Field.Length + 2)..] : fault.Text;
        if (field is null)
            Refuse(plain);
        else
            field.Refuse(plain);
    }

    /// <summary>Fills it from marks that stand in the book.</summary>
    internal MarksForm From(string inputsJson, UnitsView units)
    {
        if (JsonNode.Parse(inputsJson)?["marks"] is not JsonObject marks)
            return this;
        Scale.Fill((string?)marks["scale"]);
        Resolution.Typed = units.Typed((double?)marks["resolutionDeg"] ?? (double?)marks["resolutionMm"] ?? 0.5);
        PrintedFor.Typed = (double?)marks["scaleDistanceMm"] is { } printed ? units.Typed(printed) : "";
        if (marks["mounts"] is JsonArray mounts)
        {
            for (int i = 0; i < Math.Min(mounts.Count, Placings); i++)
            {
                Mounts[i].Tip.Fill((string?)mounts[i]?["tip"]);
                foreach (string path in new[] { "left.edge", "left.primary", "left.micro", "right.edge", "right.primary", "right.micro" })
                {
                    string[] part = path.Split('.');
                    Mounts[i].Of(path).Typed = mounts[i]?[part[0]]?[part[1]] is JsonArray numbers ? string.Join("; ", numbers.Select(n => units.Typed((double)n!))) : "";
                }
            }
        }

        return this;
    }

    private TextField Mark(int mount, string name, string label) => Add(new TextField($"m{mount}-{name}", label) { MaxLength = 200 });
}

/// <summary>The screen of <see cref="MarksForm"/>.</summary>
/// <param name="Visit">The visit.</param>
/// <param name="Step">Read or Check.</param>
/// <param name="Form">The form.</param>
/// <param name="ExpectDeg">The steepest bevel to expect; null where it is not known.</param>
public sealed record MarksScreen(BenchVisit Visit, BenchStep Step, MarksForm Form, double? ExpectDeg) : BenchScreen(Visit, Step);

/// <summary>Reads the edge by eye: marks typed from any scale.</summary>
internal static class ReadByEye
{
    public static Task<IResult> ShowAsync(string tag, ReadingPurpose purpose, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            MarksForm form = new(await visits.KitAsync(cancel), units) { VersionSeen = BenchDesk.Version(await visits.LatestAsync<Reading>(visit.Visit.Id, cancel)) };
            return Of(visit, purpose, form);
        }, cancel);

    public static Task<IResult> SaveAsync(string tag, ReadingPurpose purpose, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            BenchKit kit = await visits.KitAsync(cancel);
            MarksForm form = new(kit, units);
            if (!await form.ReadAsync(http))
                return Of(visit, purpose, form);
            string? marks = form.Typed.ToJson(visit.Piece.Kind, out IReadOnlyList<TypedFault> faults);
            string? instrument = Instrument(kit, form);
            CombinedReading? reading = null;
            if (marks is not null && !form.Wrong && !EyeReading.TryRead(marks, instrument, out reading, out IReadOnlyList<string> deeper))
                faults = [.. deeper.Select(TypedMarks.Locate)];
            foreach (TypedFault fault in faults)
                form.Refuse(fault);
            if (form.Wrong || reading is null)
                return Of(visit, purpose, form);
            long? kept = InstrumentChoice.Of(kit, form.Instrument)?.Id;
            Submitted<Reading> saved = await desk.WriteAsync(form, db => KeepAsync(db, visit, purpose, form, reading, marks!, instrument, kept, desk, cancel), ReadByPhoto.Next(visit, purpose), cancel);
            return BenchDesk.Answer(saved, form, reading.Outcome == ReadingOutcome.Refused ? "Marks kept; they tell no angle." : "Read.", theirs => (new MarksForm(kit, units).From(theirs.InputsJson, units), theirs.Id))
                ?? Of(visit, purpose, form);
        }, cancel);

    private static string? Instrument(BenchKit kit, MarksForm form)
    {
        Instrument? known = null;
        if (InstrumentChoice.Of(kit, form.Instrument) is { } kept)
        {
            if (InstrumentOnBench.Of(kept) is Composed<Instrument>.Ready ready)
                known = ready.Value;
            else
                form.Instrument.Refuse("cannot be read as it is stored; calibrate it again in Kit, or choose another");
        }

        if (form.Distance.Value is { } told)
            return InstrumentOnBench.ToJson(InstrumentOnBench.AtDistance(known, told.Millimetres, null));
        return known is null ? null : InstrumentOnBench.ToJson(known);
    }

    private static async Task<SaveOutcome<Reading>> KeepAsync(
        BookContext db, BenchVisit visit, ReadingPurpose purpose, MarksForm form, CombinedReading reading, string marks, string? instrument, long? instrumentId, BenchDesk desk, CancellationToken cancel)
    {
        DateTime now = desk.Now();
        List<long> mounts = [];
        foreach (JsonNode? placed in (JsonArray)JsonNode.Parse(marks)!["mounts"]!)
        {
            // The marks of one placing, as a document of its own.
            JsonObject own = (JsonObject)JsonNode.Parse(marks)!;
            own["mounts"] = new JsonArray(placed!.DeepClone());
            Mount mount = new() { VisitId = visit.Visit.Id, Tip = (string?)placed["tip"], MarksJson = own.ToJsonString(JsonSerializerOptions.Default), InstrumentId = instrumentId, HappenedAt = now, EnteredAt = now };
            if (await desk.Log.AddAsync(db, mount, Seen.Anything, cancel) is not SaveOutcome<Mount>.Saved)
                throw new InvalidOperationException("A mount of a visit in the book was refused.");
            mounts.Add(mount.Id);
        }

        Reading fact = EyeReading.ToFact(reading, TypedMarks.Inputs(marks, instrument), BenchReading.Method, new(visit.Visit.Id, purpose, mounts, now, now));
        return await desk.Log.AddAsync(db, fact, BenchDesk.SeenOf(form), cancel);
    }

    private static IResult Of(BenchVisit visit, ReadingPurpose purpose, MarksForm form)
    {
        MarksScreen screen = new(visit, purpose.Step(), form, ReadByPhoto.Expect(visit, purpose));
        return Page.Of<MarksPage>(screen.Title, screen, Room.Bench, form.Status);
    }
}

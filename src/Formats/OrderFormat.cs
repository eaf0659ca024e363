using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>What order.json holds.</summary>
/// <param name="Day">The day.</param>
/// <param name="Setups">What changes take, learnt from those in the file; null where it gives every change itself.</param>
public sealed record OrderInput(BenchDay Day, SetupTimes? Setups);

/// <summary>order.json: the jobs of a bench day and what each change of set-up takes. Described in docs/formats/order.schema.json.</summary>
public static class OrderFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["jobs", "changeMinutes", "setups", "returnToStart", "breaks"];

    /// <summary>Keys of a job.</summary>
    public static IReadOnlyList<string> JobKeys { get; } = ["id", "minutes", "dueMinutes", "weight", "after", "setup"];

    /// <summary>Keys of a job's set-up.</summary>
    public static IReadOnlyList<string> SetupKeys { get; } = ["piece", "rig", "wheel", "angleDeg", "wheelMinutes"];

    /// <summary>Keys of what changes are learnt from.</summary>
    public static IReadOnlyList<string> SetupsKeys { get; } = ["seen"];

    /// <summary>Keys of a change seen.</summary>
    public static IReadOnlyList<string> SeenKeys { get; } = ["minutes", "changes", "wheelMinutes"];

    private static readonly string[] Kinds = ["clamp", "wheel", "angle", "rig"];

    private const int MostJobs = 500;

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<OrderInput> Read(string json) => FieldReader.Document(json, Keys, From);

    private static OrderInput? From(FieldReader root)
    {
        Limits minutes = new(0, 100_000);
        List<BenchJob> jobs = [];
        List<BenchSetup> setups = [];
        bool learns = root.Has("setups");
        if (root.CountOf("jobs") > MostJobs)
        {
            root.Fault("jobs", FormattableString.Invariant($"at most {MostJobs} jobs would be right"));
            return null;
        }

        foreach (FieldReader job in root.Objects("jobs", [.. JobKeys]))
        {
            if (job.Text("id") is not { Length: > 0 } id)
            {
                job.Fault("id", "missing; a name of its own would be right");
                continue;
            }

            if (!job.Has("minutes"))
                job.Fault("minutes", "missing; a number 0 min or more would be right");
            if (learns && Setup(job, id) is { } setup)
                setups.Add(setup);
            else if (!learns && job.Has("setup"))
                job.Fault("setup", "nothing to learn a change from; setups beside jobs would be right, or no setup where changeMinutes gives every change");
            jobs.Add(new(id, job.Number("minutes", minutes, "min") ?? 0, job.Number("dueMinutes", new Limits(-100_000, 100_000), "min"), job.Number("weight", new Limits(0, 1000)) ?? 1, job.Texts("after")));
        }

        SetupTimes? times = learns ? Learnt(root) : null;
        if (learns && root.Has("changeMinutes"))
            root.Fault("changeMinutes", "given beside setups; one of the two would be right");
        else if (!learns && !root.Has("changeMinutes"))
            root.Fault("changeMinutes", "missing; a square list of lists [[0, 5], [5, 0]] would be right, row and column 0 the bench as it stands; or setups to learn them from");
        IReadOnlyList<IReadOnlyList<double>> changes = root.Rows("changeMinutes", minutes, "min");
        List<BenchBreak> breaks = [];
        foreach (IReadOnlyList<double> span in root.Rows("breaks", minutes, "min"))
        {
            if (span.Count == 2)
                breaks.Add(new(span[0], span[1]));
            else
                root.Fault("breaks", "pairs [from, to] in minutes of the day would be right");
        }

        bool back = root.Flag("returnToStart") ?? false;
        if (root.HasFaults)
            return null;
        BenchDay? day = BenchDay.Create(jobs, times is null ? changes : times.Matrix(setups), breaks, back, out Reason? reason);
        if (day is null)
            root.Fault(reason!.Text.Split(' ', '[')[0] is { } key && Keys.Contains(key, StringComparer.Ordinal) ? key : "jobs", reason.Text);
        return day is null ? null : new(day, times);
    }

    private static BenchSetup? Setup(FieldReader job, string id)
    {
        if (job.Object("setup", [.. SetupKeys]) is not { } setup)
        {
            if (!job.Has("setup"))
                job.Fault("setup", "missing; { \"piece\": \"A12\", \"rig\": …, \"wheel\": …, \"angleDeg\": … } would be right, as setups are given");
            return null;
        }

        return new(setup.Text("piece") ?? id, setup.Text("rig"), setup.Text("wheel"), setup.AngleDeg("angleDeg", new Limits(0, 90)), setup.Number("wheelMinutes", new Limits(0, 240), "min"));
    }

    private static SetupTimes? Learnt(FieldReader root)
    {
        if (root.Object("setups", [.. SetupsKeys]) is not { } setups)
            return null;
        List<SetupSeen> seen = [];
        foreach (FieldReader change in setups.Objects("seen", [.. SeenKeys]))
        {
            SetupChanges what = SetupChanges.None;
            foreach (string kind in change.Texts("changes"))
            {
                int at = Array.IndexOf(Kinds, kind);
                if (at < 0)
                    change.Fault("changes", $"\"{kind}\" is none; some of {string.Join(", ", Kinds.Select(k => $"\"{k}\""))} would be right");
                else
                    what |= (SetupChanges)(1 << at);
            }

            if (what == SetupChanges.None && !change.Has("changes"))
                change.Fault("changes", "missing; what was changed, [\"clamp\", \"wheel\"], would be right");
            if (!change.Has("minutes"))
                change.Fault("minutes", "missing; how long it took, above 0 min, would be right");
            if (change.Number("minutes", new Limits(0.01, 240), "min") is { } minutes)
                seen.Add(new(minutes, what, change.Number("wheelMinutes", new Limits(0, 240), "min")));
        }

        return root.HasFaults ? null : SetupLearning.From(seen);
    }
}

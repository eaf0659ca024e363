using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats;

/// <summary>order.json: the jobs of a bench day and what each change of set-up takes. Described in docs/formats/order.schema.json.</summary>
public static class OrderFormat
{
    /// <summary>Keys of the document.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["jobs", "changeMinutes", "returnToStart", "breaks"];

    /// <summary>Keys of a job.</summary>
    public static IReadOnlyList<string> JobKeys { get; } = ["id", "minutes", "dueMinutes", "weight", "after"];

    private const int MostJobs = 500;

    /// <summary>Reads the file.</summary>
    public static FormatOutcome<BenchDay> Read(string json) => FieldReader.Document(json, Keys, From);

    private static BenchDay? From(FieldReader root)
    {
        Limits minutes = new(0, 100_000);
        List<BenchJob> jobs = [];
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
            jobs.Add(new(id, job.Number("minutes", minutes, "min") ?? 0, job.Number("dueMinutes", new Limits(-100_000, 100_000), "min"), job.Number("weight", new Limits(0, 1000)) ?? 1, job.Texts("after")));
        }

        if (!root.Has("changeMinutes"))
            root.Fault("changeMinutes", "missing; a square list of lists [[0, 5], [5, 0]] would be right, row and column 0 the bench as it stands");
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
        BenchDay? day = BenchDay.Create(jobs, changes, breaks, back, out Reason? reason);
        if (day is null)
            root.Fault(reason!.Text.Split(' ', '[')[0] is { } key && Keys.Contains(key, StringComparer.Ordinal) ? key : "jobs", reason.Text);
        return day;
    }
}

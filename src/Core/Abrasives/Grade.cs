using System.Globalization;

namespace Whetwright.Core.Abrasives;

/// <summary>Who grades an abrasive, and how.</summary>
public enum GradeSystem
{
    /// <summary>FEPA F, bonded abrasives: wheels and stones (ISO 8486).</summary>
    FepaF = 0,

    /// <summary>FEPA P, coated abrasives: belts and papers (ISO 6344).</summary>
    FepaP = 1,

    /// <summary>JIS R 6001.</summary>
    Jis = 2,

    /// <summary>CAMI, ANSI B74.18.</summary>
    Cami = 3,

    /// <summary>Rated in micrometres: compounds, films, plates.</summary>
    Micrometres = 4,
}

/// <summary>How a number of the table was come by.</summary>
public enum GradeOrigin
{
    /// <summary>Read in a secondary page that names the standard.</summary>
    Secondary = 0,

    /// <summary>From memory.</summary>
    Memory = 1,

    /// <summary>Typed as micrometres.</summary>
    Typed = 2,
}

/// <summary>A grade of abrasive.</summary>
/// <param name="System">Who grades.</param>
/// <param name="Name">As marked: <c>P240</c>, <c>#1000</c>.</param>
/// <param name="D50Um">Median grain, µm.</param>
/// <param name="ToleranceUm">Permitted departure of the median, ± µm; null where the standard grades by sieves.</param>
/// <param name="Origin">How the number was come by.</param>
public sealed record Grade(GradeSystem System, string Name, double D50Um, double? ToleranceUm, GradeOrigin Origin)
{
    /// <summary>Smallest and largest median that still is this grade: the tolerance, or half-way (in ratio) to its neighbours in the table.</summary>
    public (double FromUm, double ToUm) Spread
    {
        get
        {
            if (ToleranceUm is { } tolerance)
                return (D50Um - tolerance, D50Um + tolerance);
            List<Grade> system = [.. Grades.Of(System).OrderByDescending(g => g.D50Um)];
            int at = system.FindIndex(g => g.Name == Name);
            double coarser = at > 0 ? system[at - 1].D50Um : D50Um, finer = at >= 0 && at + 1 < system.Count ? system[at + 1].D50Um : D50Um;
            return (Math.Sqrt(D50Um * finer), Math.Sqrt(D50Um * coarser));
        }
    }
}

/// <summary>The grades of the standards, and comparison across them by the median grain.</summary>
public static class Grades
{
    /// <summary>Names of the systems in files.</summary>
    public static IReadOnlyList<string> Keys { get; } = ["fepa-f", "fepa-p", "jis", "cami", "um"];

    /// <summary>All grades of a system, coarse first.</summary>
    public static IReadOnlyList<Grade> Of(GradeSystem system) => [.. GradeTable.All.Where(g => g.System == system)];

    /// <summary>The system with this name in files; null where there is none.</summary>
    public static GradeSystem? SystemFromKey(string key)
    {
        for (int i = 0; i < Keys.Count; i++)
        {
            if (string.Equals(Keys[i], key, StringComparison.Ordinal))
                return (GradeSystem)i;
        }

        return null;
    }

    /// <summary>The name of a system in files.</summary>
    public static string Key(this GradeSystem system) => Keys[(int)system];

    /// <summary>The grade as marked on the abrasive: <c>P240</c>, <c>240</c>, <c>#240</c>, <c>F60</c>; micrometres as a number. Null where there is none such.</summary>
    public static Grade? Find(GradeSystem system, string marked)
    {
        string bare = marked.Trim().TrimStart('#', 'P', 'p', 'F', 'f').Trim();
        if (system == GradeSystem.Micrometres)
        {
            string number = bare.Replace("µm", "", StringComparison.Ordinal).Replace("um", "", StringComparison.Ordinal).Trim().Replace(',', '.');
            return double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double um) && um > 0 && um < 6000
                ? new(system, number + " µm", um, null, GradeOrigin.Typed)
                : null;
        }

        return GradeTable.All.FirstOrDefault(g => g.System == system && string.Equals(g.Name.TrimStart('#', 'P', 'F'), bare, StringComparison.Ordinal));
    }

    /// <summary>The grade of another system whose median is nearest in ratio, and whether the two grades' spreads overlap.</summary>
    /// <param name="d50Um">Median, µm, above 0.</param>
    /// <param name="system">Where to look; not micrometres.</param>
    public static (Grade Grade, double Ratio) Nearest(double d50Um, GradeSystem system)
    {
        if (!(d50Um > 0) || !double.IsFinite(d50Um))
            throw new ArgumentOutOfRangeException(nameof(d50Um), d50Um, "Must be above 0 µm.");
        Grade best = Of(system).MinBy(g => Math.Abs(Math.Log(g.D50Um / d50Um)))
            ?? throw new ArgumentOutOfRangeException(nameof(system), system, "Has no table of grades.");
        return (best, best.D50Um / d50Um);
    }

    /// <summary>The medians whose median is nearest in ratio to what is sought; -1 for an empty list.</summary>
    public static int NearestOf(IReadOnlyList<double> d50Um, double soughtUm)
    {
        int best = -1;
        for (int i = 0; i < d50Um.Count; i++)
        {
            if (best < 0 || Math.Abs(Math.Log(d50Um[i] / soughtUm)) < Math.Abs(Math.Log(d50Um[best] / soughtUm)))
                best = i;
        }

        return best;
    }
}

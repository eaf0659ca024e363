using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Sections every 2 mm along an edge of 100 mm, and along the same without its first 20 mm.</summary>
public sealed class How_badly_a_light_explains_a_path
{
    private static readonly PathMisfits s_whole = new(100, Sections(100, at => at < 20 ? 9 : 2));
    private static readonly PathMisfits s_short = new(80, Sections(80, at => 3));

    [Fact]
    public void Where_one_path_goes_on_past_the_others_heel_only_what_both_have_is_compared()
    {
        Assert.True(s_whole.Mean > s_short.Mean);
        Assert.Equal(2, s_whole.AlongWith(s_short), 1e-12);
        Assert.Equal(3, s_short.AlongWith(s_whole), 1e-12);
    }

    [Fact]
    public void Without_sections_a_light_explains_nothing_badly() => Assert.Equal(0, new PathMisfits(3, []).Mean);

    private static IEnumerable<(double AtMm, double Misfit)> Sections(int lengthMm, Func<int, double> misfit) =>
        Enumerable.Range(0, lengthMm / 2).Select(i => ((2.0 * i) + 1, misfit((2 * i) + 1)));
}

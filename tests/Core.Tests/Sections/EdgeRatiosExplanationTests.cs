using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Tests.Sections;

/// <summary>Each ratio can be printed as its chain; the partials are those of the ratio's formula.</summary>
public sealed class EdgeRatiosExplanationTests
{
    private static readonly SidePair Old = new(15, 17);
    private static readonly SidePair Made = new(12, 13);
    private static readonly SteelData Steel = new(61) { ChromiumCarbidePercent = 8, VanadiumCarbidePercent = 2 };

    [Fact]
    public void Strength_push_and_life_each_have_a_chain_that_ends_in_the_ratio()
    {
        EdgeRatios ratios = EdgeRatios.Of(Old, Made, 0.3, Steel);
        IReadOnlyList<Derivation> chain = EdgeRatiosExplanation.Explain(ratios, Old, Made, Steel, isDefaultFriction: false);

        Assert.Equal([ratios.SectionModulus, ratios.Push, ratios.Life!.Value], chain.Select(d => d.Value));
        Derivation life = chain[2];
        Assert.Equal(life.Inputs[0].Value / life.Inputs[1].Value, life.Value, 1e-12);
        Assert.All(life.Inputs, i => Assert.Equal(i.Value, -157 + i.From!.Inputs.Sum(x => x.Partial!.Value * x.Value), 1e-9));
    }

    [Fact]
    public void Partials_are_what_a_small_change_of_the_input_does()
    {
        EdgeRatios ratios = EdgeRatios.Of(Old, Made, 0.3);
        IReadOnlyList<Derivation> chain = EdgeRatiosExplanation.Explain(ratios, Old, Made);
        const double h = 1e-5;
        EdgeRatios steeper = EdgeRatios.Of(Old, Made with { LeftDeg = Made.LeftDeg + h }, 0.3), rougher = EdgeRatios.Of(Old, Made, 0.3 + h);

        Assert.Equal((steeper.SectionModulus - ratios.SectionModulus) / h, chain[0].Inputs[0].Partial!.Value, 1e-5);
        Assert.Equal((steeper.Push - ratios.Push) / h, chain[1].Inputs[0].Partial!.Value, 1e-5);
        Assert.Equal((rougher.Push - ratios.Push) / h, chain[1].Inputs[4].Partial!.Value, 1e-4);
    }
}

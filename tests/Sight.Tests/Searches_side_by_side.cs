namespace Whetwright.Sight.Tests;

/// <summary>Searches on several processors give what one after the other gives.</summary>
public sealed class Searches_side_by_side
{
    [Fact]
    public void Come_back_in_the_order_they_were_given_however_long_each_takes()
    {
        int[] found = Enumerable.Range(0, 50).BesideEachOther(i =>
        {
            Thread.SpinWait((50 - i) * 2000);
            return i * i;
        });
        Assert.Equal(Enumerable.Range(0, 50).Select(i => i * i), found);
    }
}

using Whetwright.Web.Tests.Sampler;

namespace Whetwright.Web.Tests.Harness;

/// <summary>One running shop for all tests of a class that do not change it for each other. It has the sampler page, too.</summary>
public sealed class OneShop : IAsyncLifetime
{
    public RunningShop Shop { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Shop = await RunningShop.OpenAsync(more: SamplerPages.Map);

    public async ValueTask DisposeAsync() => await Shop.DisposeAsync();
}
